package match

import (
	"math"

	"fullerwright/profile"
	"fullerwright/profile/document"
)

// Fixed is a parameter that was not found, and why.
type Fixed struct {
	Key   string
	Kind  document.Kind
	Value float64 // as it stands in the knife: mm, radians or plain
	Why   string
}

// outlineQuantities returns the parameters that move the outline of a knife: found by
// moving each of the parameter table and looking. What is 0 or left out is a feature that
// the family does not have and stays so, but for the upper step of the shoulder, which
// says where the tang sits.
func outlineQuantities(k profile.Knife, overall float64) []profile.Quantity {
	before, ok := newCurve(k)
	if !ok {
		return nil
	}
	var out []profile.Quantity
	for _, q := range k.Quantities() {
		if _, is := tied(q.Key, k, overall); is || q.Of(k) == 0 {
			continue
		}
		if q.Key == "shoulder.bottom" && k.Shoulder.Top.Known {
			continue // what tang and upper step leave
		}
		if movesCurve(k, q, before, overall) {
			out = append(out, q)
		}
	}
	return out
}

// movesCurve reports whether a small change of a parameter, either way, moves any point
// of the outline.
func movesCurve(k profile.Knife, q profile.Quantity, before curve, overall float64) bool {
	h := 0.01
	if q.Kind != document.Length {
		h = 1e-3
	}
	for _, by := range []float64{h, -h} {
		moved := k.Copied()
		q.Put(&moved, q.Of(k)+by)
		tie(&moved, overall)
		after, ok := newCurve(moved)
		if !ok {
			continue
		}
		if len(after.pieces) != len(before.pieces) {
			return true
		}
		for i, p := range before.pieces {
			for _, t := range []float64{0, 0.3, 0.7, 1} {
				a, b := p.At(t), after.pieces[i].At(t)
				if math.Hypot(a.X-b.X, a.Y-b.Y) > 1e-9 {
					return true
				}
			}
		}
	}
	return false
}

// withoutCorner takes the radius of the tang's inside corners out of what is searched for
// where it is too small to be told from a sharp corner: at its middle it departs from one
// by (sqrt(2) - 1) radii, and a few readings at most lie there.
func withoutCorner(all []profile.Quantity, k profile.Knife, accuracy float64) ([]profile.Quantity, []Fixed) {
	const plain = 6 // accuracies
	if (math.Sqrt2-1)*k.Tang.CornerRadius > plain*accuracy {
		return all, nil
	}
	for i, q := range all {
		if q.Key == "tang.corner_radius" {
			return append(all[:i:i], all[i+1:]...), []Fixed{{Key: q.Key, Kind: q.Kind, Value: q.Of(k), Why: "too small for these measurements; as the pattern has it"}}
		}
	}
	return all, nil
}

// thicknessQuantities returns the parameters of the distal taper: thicknesses, and where
// the stations of the taper stand as well if they are asked for.
func thicknessQuantities(k profile.Knife, stations bool, tang bool) []profile.Quantity {
	var out []profile.Quantity
	for _, q := range k.Quantities() {
		switch {
		case q.Key == "blade.thickness", q.Group == "taper" && q.Name == "thickness" && k.Taper[q.Index].At > k.Ricasso.Length:
			out = append(out, q)
		case q.Key == "tang.end_thickness" && tang:
			out = append(out, q)
		case q.Group == "taper" && q.Name == "at" && stations && k.Taper[q.Index].At > k.Ricasso.Length:
			out = append(out, q)
		}
	}
	return out
}

// blind is the standard error over its value, or over a millimetre where the value is
// less, beyond which the readings do not see a parameter.
const blind = 0.35

// worstSeen returns the index of the parameter that the readings see worst, with its
// standard error over its size; only shape parameters are looked at.
func worstSeen(errors, theta []float64, free []profile.Quantity) (index int, ratio float64) {
	index = -1
	for i, q := range free {
		size := math.Abs(theta[i])
		if q.Kind == document.Length {
			size = math.Max(size, 1)
		}
		if r := errors[i] / size; r > ratio || math.IsNaN(r) {
			index, ratio = i, r
		}
	}
	return index, ratio
}
