package profile

import "math"

// raise returns the line at the distance r over a chain of straight pieces, each
// piece moved square to itself and the pieces joined where they meet.
func raise(floor []AxisPoint, r float64) []AxisPoint {
	n := len(floor)
	out := make([]AxisPoint, n)
	slope := func(i int) float64 { return (floor[i+1].H - floor[i].H) / (floor[i+1].S - floor[i].S) }
	for i, p := range floor {
		switch {
		case i == 0:
			out[i] = over(p, slope(0), r)
		case i == n-1:
			out[i] = over(p, slope(n-2), r)
		default:
			// Both raised lines pass r·sqrt(1+m²) over the vertex, and so meet where
			// (m1 - m0)·ds = r·(sqrt(1+m0²) - sqrt(1+m1²)).
			m0, m1 := slope(i-1), slope(i)
			k0, k1 := math.Hypot(1, m0), math.Hypot(1, m1)
			ds := -r * (m0 + m1) / (k0 + k1)
			out[i] = AxisPoint{p.S + ds, p.H + r*k0 + m0*ds}
		}
	}
	return out
}

// over returns the place r away from p, square to a line of slope m.
func over(p AxisPoint, m, r float64) AxisPoint {
	k := math.Hypot(1, m)
	return AxisPoint{p.S - r*m/k, p.H + r/k}
}

// runOut returns the arc of the given radius that goes on smoothly from the end of a
// straight axis.
func runOut(end, inner AxisPoint, radius float64) AxisArc {
	m := (end.H - inner.H) / (end.S - inner.S)
	c := over(end, m, radius)
	return AxisArc{S: c.S, H: c.H, Radius: radius, Lean: math.Copysign(m, m*(end.S-inner.S)) / math.Hypot(1, m)}
}
