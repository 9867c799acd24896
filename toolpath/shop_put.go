package toolpath

import (
	"fmt"
	"math"
	"slices"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// entryOf returns the row of the shop's table with a key, as machine.power or
// cutter[2].stick_out, and which occurrence it is.
func (s Shop) entryOf(key string) (e entry, index int, known bool) {
	group, index, name := splitKey(key)
	for _, g := range shopTable() {
		if g.name != group || index < 0 || g.name == "cutter" && index >= len(s.Cutters) {
			continue
		}
		for _, e := range g.entries {
			if e.Name == name {
				return e, index, true
			}
		}
	}
	return entry{}, 0, false
}

// quantity returns the number of the shop with a key, as it is read in a unit.
func (s Shop) quantity(key string, unit document.Unit) (quantityNow, bool) {
	e, index, known := s.entryOf(key)
	if !known {
		return quantityNow{}, false
	}
	q := quantityNow{least: e.Min, most: e.Max, step: stepOf(e.Key, unit), inches: readInInches(e.Key, unit)}
	if e.Kind == document.Angle {
		q.least, q.most = e.Min*float64(geom.Degree), e.Max*float64(geom.Degree)
	}
	switch field := e.field(&s, index).(type) {
	case *float64:
		q.now = *field
	case *geom.Angle:
		q.now = float64(*field)
	case *profile.Optional:
		if q.now = field.Value; !field.Known {
			return q, false
		}
	default:
		return q, false
	}
	return q, true
}

// parallelsKey stands for the height of a pair of parallels more.
const parallelsKey = "parallels"

// Put returns the shop with the number of a key, in mm, radians or plain, where its file
// might say so.
func (s Shop) Put(key string, value float64) (Shop, error) {
	if key == parallelsKey && value > 0 {
		s.Parallels = append(s.Parallels[:len(s.Parallels):len(s.Parallels)], Parallel{value})
		return s, nil
	}
	q, known := s.quantity(key, document.Millimetre)
	if !known {
		return Shop{}, fmt.Errorf("the shop has no number %s", key)
	}
	if value < q.least || value > q.most {
		return Shop{}, fmt.Errorf("%s must be from %g to %g", key, q.least, q.most)
	}
	s.Cutters = slices.Clone(s.Cutters)
	e, index, _ := s.entryOf(key)
	switch field := e.field(&s, index).(type) {
	case *float64:
		*field = value
	case *geom.Angle:
		*field = geom.Angle(value)
	case *profile.Optional:
		*field = profile.Some(value)
	}
	if faults := cuttersAgree(s, document.Document{}); len(faults) > 0 {
		return Shop{}, faults
	}
	return s, nil
}

// wholeSpeed returns the spindle speed that the mill has nearest to one that is wanted, in
// whole turns a minute and not beyond it where the mill goes so slow.
func (s Shop) wholeSpeed(speed float64) float64 {
	least, most := math.Ceil(s.Machine.SpindleLeast), math.Floor(s.Machine.SpindleMost)
	return math.Max(least, math.Min(math.Floor(speed), most))
}

// KindOf returns the kind of a key of the shop file as ways out name it.
func KindOf(key string) document.Kind {
	if key == parallelsKey {
		return document.Length
	}
	group, _, name := splitKey(key)
	for _, g := range shopTable() {
		for _, e := range g.entries {
			if g.name == group && e.Name == name {
				return e.Kind
			}
		}
	}
	return document.Text
}
