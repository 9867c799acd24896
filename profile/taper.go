package profile

import (
	"math"
	"slices"
)

// TaperOrder says when the faces of the bar are ground to the distal taper.
type TaperOrder string

// The two orders of work.
const (
	// TaperedAfter mills the fullers into parallel faces, so deep that they have their
	// depth once the taper is ground.
	TaperedAfter TaperOrder = "after milling"
	// TaperedBefore grinds the taper first and mills the fullers from each tapered face,
	// which shows their depth as it will be.
	TaperedBefore TaperOrder = "before milling"
)

// groundFaces returns the thickness of a bar whose faces are ground to the taper before
// it is milled: that of the blade and what cleaning up, hardening and finishing take off
// both faces. Behind the guard plane and in front of the point it goes on unchanged.
func (k Knife) groundFaces() stations {
	out := k.thicknessStations()
	for i := range out {
		out[i].value += k.Allowance.BothFaces()
	}
	return out
}

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

// plus returns the sum of two functions.
func (s stations) plus(other stations) stations {
	var at []float64
	for _, p := range slices.Concat(s, other) {
		at = append(at, p.at)
	}
	slices.Sort(at)
	var out stations
	for _, x := range slices.Compact(at) {
		out = append(out, station{x, s.value(x) + other.value(x)})
	}
	return out
}

// over returns the function from one place to another by no more stations than it takes.
func (s stations) over(from, to float64) stations {
	all := stations{{from, s.value(from)}}
	for _, p := range s {
		if p.at > from && p.at < to {
			all = append(all, p)
		}
	}
	all = append(all, station{to, s.value(to)})
	out := all[:1]
	for i := 1; i < len(all)-1; i++ {
		if straight := (stations{out[len(out)-1], all[i+1]}).value(all[i].at); math.Abs(all[i].value-straight) > resolution {
			out = append(out, all[i])
		}
	}
	return append(out, all[len(all)-1])
}

// least returns the smallest value between from and to, and where it lies.
func (s stations) least(from, to float64) (value, at float64) { return s.extreme(from, to, 1) }

// most returns the greatest value between from and to, and where it lies.
func (s stations) most(from, to float64) (value, at float64) { return s.extreme(from, to, -1) }

// extreme is least for a sign of 1, most for one of -1.
func (s stations) extreme(from, to, sign float64) (value, at float64) {
	value, at = s.value(from), from
	consider := func(x float64) {
		if v := s.value(x); sign*v < sign*value {
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
