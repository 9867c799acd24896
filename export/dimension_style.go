package export

import (
	"fmt"
	"math"
	"strings"

	"fullerwright/profile/document"
)

// LengthStyle says how a drawing writes lengths.
type LengthStyle uint8

// The ways of writing lengths.
const (
	Millimetres  LengthStyle = iota
	DecimalInch              // three decimals
	ShopFraction             // the nearest 64th of an inch, with what the rounding adds; thicknesses decimal
)

// fractionDenominator is the finest division of a shop rule.
const fractionDenominator = 64

// inchMM is the length of an inch, mm, exact since 1959.
const inchMM = 25.4

// LengthStyleNamed returns a style by its name on the command line.
func LengthStyleNamed(name string) (LengthStyle, bool) {
	for style, known := range LengthStyleNames() {
		if name == known {
			return LengthStyle(style), true
		}
	}
	return 0, false
}

// LengthStyleNames returns the names of the styles, in their order.
func LengthStyleNames() []string { return []string{"mm", "in", "fraction"} }

// Length writes a length without its unit. In shop fractions it is rounded to the
// nearest 64th, and added is what the rounding adds, in inches, or empty where that is
// under half a thousandth.
func (l LengthStyle) Length(mm float64) (text, added string) {
	if l != ShopFraction {
		return l.Thickness(mm), ""
	}
	text, more := document.NearestFraction(mm, fractionDenominator)
	if extra := more / inchMM; math.Abs(extra) >= 0.0005 {
		added = withoutZero(fmt.Sprintf("%+.3f", extra))
	}
	return strings.TrimSuffix(text, " in"), added
}

// Thickness writes a length that is measured with a caliper or a micrometer: decimal in
// every style. Metric values have no trailing zeros (ISO 129-1); values in inches have
// no zero before the point and keep their decimals (ASME Y14.5); both from memory.
func (l LengthStyle) Thickness(mm float64) string {
	if l == Millimetres {
		text := strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.2f", mm), "0"), ".")
		if text == "-0" {
			return "0"
		}
		return text
	}
	text := fmt.Sprintf("%.3f", mm/inchMM)
	if text == "-0.000" {
		text = "0.000"
	}
	return withoutZero(text)
}

// withoutZero drops the zero before the point of a decimal below one.
func withoutZero(text string) string {
	digits := strings.TrimLeft(text, "+-")
	if !strings.HasPrefix(digits, "0.") {
		return text
	}
	return text[:len(text)-len(digits)] + digits[1:]
}

// say says a text whose lengths are in millimetres in the unit of the style.
func (l LengthStyle) say(text string) string {
	if l == Millimetres {
		return text
	}
	return document.Words(text).In(document.Inch)
}

// Words says how lengths are written, for a title block.
func (l LengthStyle) Words() string {
	switch l {
	case DecimalInch:
		return "inch"
	case ShopFraction:
		return "inch, to 1/64 (see tables)"
	}
	return "mm"
}

// unitWord returns the unit in full.
func (l LengthStyle) unitWord() string {
	if l == Millimetres {
		return "mm"
	}
	return "inches"
}

// Unit returns the sign of the unit, for heads of tables.
func (l LengthStyle) Unit() string {
	if l == Millimetres {
		return "mm"
	}
	return "in"
}
