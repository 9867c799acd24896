package export

import (
	"fmt"
	"math"

	"fullerwright/profile/document"
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
