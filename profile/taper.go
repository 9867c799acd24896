package profile

// stations is a function of one variable given at ascending stations, straight
// between them and constant beyond the first and the last.
type stations []station

type station struct{ at, value float64 }

func (s stations) value(at float64) float64 {
	i := 0
	for i < len(s) && s[i].at <= at {
		i++
	}
	switch i {
	case 0:
		return s[0].value
	case len(s):
		return s[i-1].value
	}
	a, b := s[i-1], s[i]
	return a.value + (b.value-a.value)*(at-a.at)/(b.at-a.at)
}

// least returns the smallest value between from and to, and where it lies.
func (s stations) least(from, to float64) (value, at float64) {
	value, at = s.value(from), from
	consider := func(x float64) {
		if v := s.value(x); v < value {
			value, at = v, x
		}
	}
	for _, p := range s {
		if p.at > from && p.at < to {
			consider(p.at)
		}
	}
	consider(to)
	return value, at
}

// thicknessStations returns the finished thickness of the blade by its distance from
// the guard plane: the ricasso's up to the plunge line or the first station.
func (k Knife) thicknessStations() stations {
	taper := stations{{0, k.Blade.Thickness}}
	if len(k.Taper) > 0 && k.Taper[0].At > k.Ricasso.Length {
		taper = append(taper, station{k.Ricasso.Length, k.Blade.Thickness})
	}
	for _, s := range k.Taper {
		if s.At <= taper[len(taper)-1].at {
			taper[len(taper)-1].value = s.Thickness
			continue
		}
		taper = append(taper, station{s.At, s.Thickness})
	}
	return taper
}

// Thickness returns the finished thickness of the blade, before fullers and bevels,
// at the distance x from the guard plane, mm.
func (k Knife) Thickness(x float64) float64 { return k.thicknessStations().value(x) }

// TangThickness returns the finished thickness of the tang at x, which lies behind the
// guard plane and is negative, mm.
func (k Knife) TangThickness(x float64) float64 { return k.tangStations().value(x) }
