package match

import (
	"gonum.org/v1/gonum/mat"

	"fullerwright/profile"
)

// thicknessModel is the distal taper of a family against the readings of thickness.
type thicknessModel struct {
	readings []Reading
	base     profile.Knife
	free     []profile.Quantity
}

func (m *thicknessModel) knife(theta []float64) profile.Knife {
	k := m.base.Copied()
	for i, q := range m.free {
		q.Put(&k, theta[i])
	}
	return k
}

func (m *thicknessModel) residuals(theta []float64) ([]float64, bool) {
	k := m.knife(theta)
	for i, s := range k.Taper {
		if s.At <= k.Ricasso.Length || s.At > k.Blade.Length || i > 0 && s.At <= k.Taper[i-1].At {
			return nil, false
		}
	}
	if k.Tang.EndThickness.Or(k.Blade.Thickness) > k.Blade.Thickness {
		return nil, false // no guard would pass over it
	}
	out := make([]float64, len(m.readings))
	for i, r := range m.readings {
		out[i] = r.Value - thicknessAt(k, r.X)
	}
	return out, true
}

// thicknessAt returns the finished thickness of a knife at a station.
func thicknessAt(k profile.Knife, x float64) float64 {
	if x < 0 {
		return k.TangThickness(x)
	}
	return k.Thickness(x)
}

func (m *thicknessModel) linearise(theta []float64) ([]float64, *mat.Dense, bool) {
	r, ok := m.residuals(theta)
	if !ok {
		return nil, nil, false
	}
	jacobian := mat.NewDense(len(r), max(1, len(theta)), nil)
	for a := range theta {
		moved := append([]float64(nil), theta...)
		moved[a] = theta[a] + nudge
		high, above := m.residuals(moved)
		moved[a] = theta[a] - nudge
		low, below := m.residuals(moved)
		if !above || !below {
			continue
		}
		for i := range r {
			jacobian.Set(i, a, (high[i]-low[i])/(2*nudge))
		}
	}
	return r, jacobian, true
}

func (m *thicknessModel) limits() (least, most []float64) {
	for _, q := range m.free {
		low, high := q.Limits()
		least, most = append(least, low), append(most, high)
	}
	return least, most
}
