package export

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

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

// feetMetres is the length of a foot, m (exact: 12 inches of 25.4 mm).
const feetMetres = 0.3048

// figures turns the value, limit and unit of a check into the unit of the programs.
func (u units) figures(value, limit float64, unit string) (v, l float64, name string) {
	if !u.inch {
		return value, limit, unit
	}
	long := u.unit().Millimetres()
	switch unit {
	case "mm":
		return value / long, limit / long, "in"
	case "mm/min":
		return value / long, limit / long, "in/min"
	case "m/min":
		return value / feetMetres, limit / feetMetres, "ft/min"
	}
	return value, limit, unit
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
func (u units) check(c toolpath.Check) string {
	c.Value, c.Limit, c.Unit = u.figures(c.Value, c.Limit, c.Unit)
	c.Name, c.Place, c.Remedy = u.sentence(c.Name), u.sentence(c.Place), u.sentence(c.Remedy)
	return c.String()
}

// metric finds lengths, and feeds a minute, in a sentence that is written in millimetres; of
// two with one unit, as in "26.2 to 30 mm", both.
var metric = regexp.MustCompile(`(\d+(?:\.\d+)?)(?: (to|and) (\d+(?:\.\d+)?))? mm\b`)

// sentence puts the millimetres of a sentence into the unit of the programs, with as many
// digits as stand for a tenth of theirs or more.
func (u units) sentence(text string) string {
	if !u.inch {
		return text
	}
	return metric.ReplaceAllStringFunc(text, func(found string) string {
		m := metric.FindStringSubmatch(found)
		if m[2] == "" {
			return u.inches(m[1]) + " in"
		}
		return u.inches(m[1]) + " " + m[2] + " " + u.inches(m[3]) + " in"
	})
}

// inches writes a number of millimetres as inches.
func (u units) inches(text string) string {
	mm, err := strconv.ParseFloat(text, 64)
	if err != nil {
		panic("impossible: the pattern found no number: " + err.Error())
	}
	_, decimals, _ := strings.Cut(text, ".")
	return strconv.FormatFloat(mm/u.unit().Millimetres(), 'f', len(decimals)+2, 64)
}
