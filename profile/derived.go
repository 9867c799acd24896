package profile

import "math"

// RicassoWidth returns the width of the ricasso, mm.
func (k Knife) RicassoWidth() float64 { return k.Ricasso.Width.Or(k.Blade.Width) }

// ShoulderTop returns the step from the spine line to the tang, mm.
func (k Knife) ShoulderTop() float64 {
	if !k.Shoulder.Top.Known && k.Shoulder.Bottom.Known {
		return k.RicassoWidth() - k.Tang.Width - k.Shoulder.Bottom.Value
	}
	return k.Shoulder.Top.Or((k.RicassoWidth() - k.Tang.Width) / 2)
}

// ShoulderBottom returns the step from the ricasso's edge side to the tang, mm.
func (k Knife) ShoulderBottom() float64 {
	return k.Shoulder.Bottom.Or(k.RicassoWidth() - k.Tang.Width - k.ShoulderTop())
}

// BevelHeight returns the height of the bevel line over the edge at the plunge line,
// mm. Given as an angle a it is (t - e) / (2 tan a).
func (k Knife) BevelHeight() float64 {
	return heightOf(k.Bevel.Height, k.Bevel.Angle, (k.Blade.Thickness-k.Bevel.EdgeThickness)/2)
}

// heightOf returns the height of a bevel given as a height or an angle that takes cut
// off each face at its rim.
func heightOf(height, angle Optional, cut float64) float64 {
	if height.Known || !angle.Known {
		return height.Value
	}
	return cut / math.Tan(angle.Value)
}

// FalseEdgeHeight returns the height of the false edge, mm. Given as an angle it is the
// one where the false edge begins.
func (k Knife) FalseEdgeHeight() float64 {
	f := k.FalseEdge
	return heightOf(f.Height, f.Angle, (k.Thickness(k.Blade.Length-f.Length)-f.Thickness)/2)
}

// SecondEdgeHeight returns the height of the second edge's bevel where it begins, mm.
func (k Knife) SecondEdgeHeight() float64 {
	e := k.SecondEdge
	return heightOf(e.Height, e.Angle, (k.Thickness(k.Blade.Length-e.Length)-e.EdgeThickness)/2)
}

// BevelAngle returns the angle of a bevel to the centre-plane at the plunge line,
// radians: atan((t - e) / (2 h)).
func (k Knife) BevelAngle() float64 {
	return math.Atan2(k.Blade.Thickness-k.Bevel.EdgeThickness, 2*k.BevelHeight())
}

// OverallLength returns the length of the piece from the end of the tang, without a
// threaded extension, to the point, mm.
func (k Knife) OverallLength() float64 { return k.Tang.Length + k.Blade.Length }

// neededBarLength returns the least length of bar, mm.
func (k Knife) neededBarLength() float64 {
	return k.OverallLength() + k.Bar.TangAllowance + k.Bar.PointAllowance
}

// neededBarWidth returns the least width of bar, mm.
func (k Knife) neededBarWidth() float64 {
	return k.Bar.SpineAllowance + k.spineTop() + k.Blade.Width + k.Bar.EdgeAllowance
}

// neededBarThickness returns the least thickness of bar, mm: the thickest place of
// the finished knife and what comes off both faces.
func (k Knife) neededBarThickness() float64 {
	thickest := k.Blade.Thickness
	for _, s := range k.Taper {
		thickest = math.Max(thickest, s.Thickness)
	}
	return thickest + k.Allowance.BothFaces()
}
