package export

import (
	"fmt"
	"math"

	"fullerwright/profile/document"
	"fullerwright/templates"
	"fullerwright/toolpath"
)

// units writes lengths in the unit of the programs.
type units struct{ inch bool }

func (u units) unit() document.Unit {
	if u.inch {
		return document.Inch
	}
	return document.Millimetre
}

func (u units) name() string { return fmt.Sprint(u.unit()) }

// names is the unit in a sentence, where "in" would be read as another word.
func (u units) names() string {
	if u.inch {
		return "inches"
	}
	return u.name()
}

// fine writes a difference that no readout shows, with its unit.
func (u units) fine(mm float64) string {
	if u.inch {
		return fmt.Sprintf("%.5f in", mm/u.unit().Millimetres())
	}
	return fmt.Sprintf("%.4f mm", mm)
}

// volume writes a volume with its unit.
func (u units) volume(mm3 float64) string {
	if long := u.unit().Millimetres(); u.inch {
		return fmt.Sprintf("%.4f in³", mm3/(long*long*long))
	}
	return fmt.Sprintf("%.0f mm³", mm3)
}

// length writes a place to the digits that a readout shows: a thousandth of a millimetre
// or a ten-thousandth of an inch, without a unit.
func (u units) length(mm float64) string {
	places := 3
	if u.inch {
		places = 4
	}
	text := fmt.Sprintf("%.*f", places, mm/u.unit().Millimetres())
	if math.Abs(mm) < 1e-9 {
		return fmt.Sprintf("%.*f", places, 0.0)
	}
	return text
}

// with writes a length with its unit.
func (u units) with(mm float64) string { return u.length(mm) + " " + u.name() }

// short writes a length that is looked at, not set: to a millimetre or a twentieth of an
// inch.
func (u units) short(mm float64) string {
	if u.inch {
		return fmt.Sprintf("%.2f", mm/u.unit().Millimetres())
	}
	return fmt.Sprintf("%.0f", mm)
}

// feed writes a feed without its unit.
func (u units) feed(mm float64) string {
	if u.inch {
		return fmt.Sprintf("%.1f", mm/u.unit().Millimetres())
	}
	return fmt.Sprintf("%.0f", mm)
}

func (u units) feedWith(mm float64) string { return u.feed(mm) + " " + u.name() + "/min" }

// texts returns the sentences of a part of the sheet, their lengths in the unit of the
// programs.
func (u units) texts(part string) []string {
	out := templates.SetupTexts(part)
	for i := range out {
		out[i] = u.sentence(out[i])
	}
	return out
}

// check says a check in one line, in the unit of the programs.
func (u units) check(c toolpath.Check) string { return c.In(u.unit()) }

// sentence puts the millimetres of a text into the unit of the programs.
func (u units) sentence(text string) string { return document.Words(text).In(u.unit()) }
