package profile

import (
	"fmt"
	"math"

	"fullerwright/profile/document"
)

// Measured is what somebody measured on the real bar of one job. A measured value
// overrides the one of the knife file wherever it matters. It lives in a file of its
// own beside the knife file, so that the figures of one bar cannot leak into the
// next knife. The zero value is nothing measured.
type Measured struct {
	Length    Optional
	Thickness []MeasuredStation // ascending from the butt
	Widths    []MeasuredStation // ascending from the butt
	// Of the real tang where the guard will seat.
	TangWidth, TangThickness Optional
	Fullers                  []FullerReading // once they are milled
	source                   document.Document
}

// MeasuredStation is one reading at a distance from the butt, the tang's end of the bar.
type MeasuredStation struct{ FromButt, Value float64 }

// Width returns the greatest width read, which is the one that a vise closes on.
func (m Measured) Width() (float64, bool) {
	widest := 0.0
	for _, s := range m.Widths {
		widest = math.Max(widest, s.Value)
	}
	return widest, len(m.Widths) > 0
}

// Any reports whether anything of the bar or the tang was measured.
func (m Measured) Any() bool {
	return m.Length.Known || len(m.Thickness) > 0 || len(m.Widths) > 0 || m.TangWidth.Known || m.TangThickness.Known
}

// Numbers returns the measured values without the file they came from.
func (m Measured) Numbers() Measured {
	m.source = document.Document{}
	return m
}

// MeasuredSchema returns the keys of a file of measured values.
func MeasuredSchema() document.Schema {
	station := func(name, meaning, key, what string, most float64) document.Group {
		return document.Group{Name: name, Meaning: meaning, Repeated: true, Keys: []document.Key{
			needed("from_butt", "distance of the reading from the butt, the tang's end of the bar", 0, 2000),
			needed(key, what, 1, most),
		}}
	}
	return document.Schema{Groups: []document.Group{
		{Keys: []document.Key{choice("units", "unit of every plain number that is a length", "mm", "in")}},
		{Name: "bar", Meaning: "the real bar", Keys: []document.Key{length("length", "its length", "", 40, 2000)}},
		{Name: "tang", Meaning: "the real tang where the guard will seat, once it is made", Keys: []document.Key{
			length("width", "what the caliper read", "", 3, 120), length("thickness", "what the micrometer read", "", 0.5, 20)}},
		station("thickness", "thickness of the real bar; five readings are a good number", "thickness", "what the micrometer read", 30),
		station("width", "width of the real bar; three readings are a good number", "width", "what the caliper read", 200),
		fullerReadingGroup(),
	}}
}

// ParseMeasured reads a file of measured values and checks it against the knife it
// belongs to: all faults at once, as document.FieldErrors.
func ParseMeasured(file string, data []byte, k Knife) (Measured, error) {
	read, err := document.Read(file, data, MeasuredSchema())
	if err != nil {
		return Measured{}, err
	}
	return measuredFrom(read, k)
}

// ParseMeasuredFile is ParseMeasured for a file on disk.
func ParseMeasuredFile(path string, k Knife) (Measured, error) {
	read, err := document.ReadFile(path, MeasuredSchema())
	if err != nil {
		return Measured{}, err
	}
	return measuredFrom(read, k)
}

func measuredFrom(read document.Document, k Knife) (Measured, error) {
	one := func(group, key string) Optional {
		value := read.Value(group, 0, key)
		return Optional{Value: value.Float, Known: value.Known}
	}
	m := Measured{source: read, Length: one("bar", "length"), TangWidth: one("tang", "width"), TangThickness: one("tang", "thickness")}
	m.Thickness = readStations(read, "thickness")
	m.Widths = readStations(read, "width")
	m.Fullers = readFullers(read)
	if faults := m.validate(k); len(faults) > 0 {
		return Measured{}, faults
	}
	return m, nil
}

func readStations(read document.Document, group string) []MeasuredStation {
	out := make([]MeasuredStation, read.Len(group))
	for i := range out {
		out[i] = MeasuredStation{read.Value(group, i, "from_butt").Float, read.Value(group, i, group).Float}
	}
	return out
}

// validate checks that stations ascend and that the real bar holds the knife.
func (m Measured) validate(k Knife) (faults document.FieldErrors) {
	bar := BarOf(k, m)
	thickest := func(float64) float64 { return k.Blade.Thickness }
	where := "at the ricasso"
	if bar.TaperedFirst() { // ground to the taper already
		thickest, where = func(fromButt float64) float64 { return k.Thickness(bar.Butt + fromButt) }, "there"
	}
	for _, list := range []struct {
		group string
		read  []MeasuredStation
		least func(fromButt float64) float64
		need  string
	}{
		{"thickness", m.Thickness, thickest, "the finished thickness " + where},
		{"width", m.Widths, func(float64) float64 { return k.Blade.Width }, "the width of the blade"},
	} {
		for i, s := range list.read {
			if i > 0 && s.FromButt <= list.read[i-1].FromButt {
				faults = append(faults, m.source.Fault(list.group, i, "from_butt", "stations must ascend from the butt", "put the readings in order"))
			}
			if least := list.least(s.FromButt); s.Value < least {
				faults = append(faults, m.source.Fault(list.group, i, list.group,
					fmt.Sprintf("less than %s, %s", list.need, k.say(least)), "measure again, or take another bar"))
			}
			if s.FromButt > bar.Length()+agreement {
				faults = append(faults, m.source.Fault(list.group, i, "from_butt", fmt.Sprintf("beyond the end of the bar, %s from the butt", k.say(bar.Length())), "measure again, or give the bar's length"))
			}
		}
	}
	if need := k.OverallLength(); m.Length.Known && m.Length.Value < need {
		faults = append(faults, m.source.Fault("bar", 0, "length",
			fmt.Sprintf("the piece alone is %s long", k.say(need)), "measure again, or take another bar"))
	}
	faults = append(faults, m.validateTang(k, bar)...)
	return append(faults, m.validateFullers(k)...)
}

// validateTang checks that the real tang is one that the knife and its bar can have.
func (m Measured) validateTang(k Knife, bar Bar) (faults document.FieldErrors) {
	if most := k.RicassoWidth(); m.TangWidth.Known && m.TangWidth.Value > most {
		faults = append(faults, m.source.Fault("tang", 0, "width", fmt.Sprintf("more than the ricasso, %s", k.say(most)), "measure again"))
	}
	if most := bar.Bought().Thickness(0) + agreement; m.TangThickness.Known && m.TangThickness.Value > most {
		faults = append(faults, m.source.Fault("tang", 0, "thickness", fmt.Sprintf("more than the bar, %s", k.say(most-agreement)), "measure again, or the bar too"))
	}
	return faults
}
