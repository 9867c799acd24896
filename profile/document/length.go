package document

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// lengthText is a length with its unit: a whole number and a fraction, a fraction, or
// a decimal, then the unit.
var lengthText = regexp.MustCompile(`^([+-]?)\s*(?:(\d+)[\s-]+(\d+)/(\d+)|(\d+)/(\d+)|(\d+(?:[.,]\d*)?|[.,]\d+))\s*(mm|cm|in|inch|inches|"|thou)$`)

// decimalComma is a number with a comma for its point.
var decimalComma = regexp.MustCompile(`^[+-]?\d*,\d+$`)

// ParseLength reads a length as a person types it and returns it in millimetres. A
// plain number is in the given unit; with a unit of its own it may be a decimal, a
// fraction or a whole number and a fraction: "7 1/4 in", "5/32\"", "4.2 mm",
// "12 thou" (thousandths of an inch). A decimal comma is taken only where the unit
// stands beside it.
func ParseLength(text string, unit Unit) (float64, error) {
	trimmed := strings.TrimSpace(text)
	if v, err := strconv.ParseFloat(trimmed, 64); err == nil && !strings.ContainsAny(trimmed, "xXpP_iInN") {
		return within(v * unit.Millimetres())
	}
	m := lengthText.FindStringSubmatch(strings.ToLower(trimmed))
	if m == nil {
		return 0, explainLength(trimmed)
	}
	value, err := magnitude(m)
	if err != nil {
		return 0, err
	}
	if m[1] == "-" {
		value = -value
	}
	return within(inMillimetres(value, m[8]))
}

// longest is the greatest length that is taken for one, mm: a kilometre.
const longest = 1e6

// within refuses a length that nobody means.
func within(mm float64) (float64, error) {
	if math.Abs(mm) > longest {
		return 0, errors.New("more than a kilometre; look for a lost decimal point")
	}
	return mm, nil
}

// inMillimetres takes a value in the unit of a suffix to millimetres.
func inMillimetres(value float64, suffix string) float64 {
	switch suffix {
	case "mm":
		return value
	case "cm":
		return value * 10
	case "thou":
		return value * inch / 1000
	}
	return value * inch
}

func magnitude(m []string) (float64, error) {
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
		if err != nil {
			return math.Inf(1)
		}
		return v
	}
	over := func(top, bottom string) (float64, error) {
		if number(bottom) == 0 {
			return 0, errors.New("a fraction must not have 0 under its line")
		}
		return number(top) / number(bottom), nil
	}
	switch {
	case m[2] != "":
		part, err := over(m[3], m[4])
		return number(m[2]) + part, err
	case m[5] != "":
		return over(m[5], m[6])
	}
	return number(m[7]), nil
}

// explainLength says what is wrong with a text that is no length.
func explainLength(text string) error {
	lower := strings.ToLower(text)
	switch {
	case text == "":
		return errors.New(`a length is missing; type a number, or a text like "4.2 mm" or "5/32 in"`)
	case strings.HasSuffix(lower, "/min") || strings.HasSuffix(lower, "/s") || strings.HasSuffix(lower, "/s2"):
		return errors.New(`a rate is given as a length alone, what it is for is in the key: 2500, "2500 mm" or "100 in"`)
	case strings.HasSuffix(lower, "mil"):
		return errors.New(`"mil" is read as a thousandth of an inch by some and as a millimetre by others; type thou or mm`)
	case strings.HasSuffix(lower, "ga") || strings.HasSuffix(lower, "gauge"):
		return errors.New("a gauge number is not a thickness; measure the bar")
	case decimalComma.MatchString(lower):
		return fmt.Errorf(`a decimal comma is taken only with the unit beside it, as "%s mm"; or type %s`, text, strings.Replace(text, ",", ".", 1))
	case strings.ContainsAny(lower[len(lower)-1:], "0123456789."):
		return errors.New(`a length in quotes must carry its unit, as "4.2 mm", "5/32 in" or "12 thou"`)
	}
	return fmt.Errorf(`not a length; type a number, or a text like "4.2 mm", "7 1/4 in" or "12 thou"`)
}

// FormatLength writes a length as a plain number in the given unit, with no more
// digits than tell it from its neighbours at a ten-thousandth of a millimetre.
func FormatLength(mm float64, unit Unit) string {
	decimals := 4
	if unit == Inch {
		decimals = 6
	}
	text := strconv.FormatFloat(mm/unit.Millimetres(), 'f', decimals, 64)
	text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	if text == "" || text == "-0" {
		return "0"
	}
	return text
}

// NearestFraction writes a length as the nearest shop fraction of an inch with the
// given greatest denominator, a power of two, and returns what the rounding adds, mm.
func NearestFraction(mm float64, denominator int) (text string, added float64) {
	parts := int(math.Round(math.Abs(mm) / inch * float64(denominator)))
	added = math.Copysign(float64(parts)/float64(denominator)*inch, mm) - mm
	whole, rest := parts/denominator, parts%denominator
	for rest > 0 && rest%2 == 0 && denominator%2 == 0 {
		rest, denominator = rest/2, denominator/2
	}
	switch {
	case rest == 0:
		text = strconv.Itoa(whole)
	case whole == 0:
		text = fmt.Sprintf("%d/%d", rest, denominator)
	default:
		text = fmt.Sprintf("%d %d/%d", whole, rest, denominator)
	}
	if mm < 0 && parts > 0 {
		text = "-" + text
	}
	return text + " in", added
}
