package document

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2/unstable"
)

// fromTyped turns what was typed into a value, or says what is wrong with it.
func (k Key) fromTyped(t typedValue, unit Unit) (Value, string) {
	switch t.kind {
	case unstable.String:
		switch k.Kind {
		case Number, Count, Flag:
			return Value{}, "must be " + k.article() + ", without quotes"
		}
		return k.fromText(t.data, unit)
	case unstable.Integer, unstable.Float:
		if k.Kind == Text || k.Kind == Choice || k.Kind == Flag {
			return Value{}, "must be " + k.article()
		}
		return k.fromNumber(t.data, unit)
	case unstable.Bool:
		if k.Kind != Flag {
			return Value{}, "must be " + k.article()
		}
		return Value{Flag: t.data == "true"}, ""
	}
	return Value{}, "must be " + k.article()
}

// article names the kind of value with its article.
func (k Key) article() string {
	switch k.Kind {
	case Length:
		return `a length: a number, or a text like "4.2 mm" or "5/32 in"`
	case Angle:
		return "an angle in degrees"
	case Number:
		return "a number"
	case Count:
		return "a whole number"
	case Choice:
		return "one of " + quoted(k.Choices)
	case Flag:
		return "true or false"
	}
	return "a text in quotes"
}

func (k Key) fromNumber(text string, unit Unit) (Value, string) {
	plain := strings.ReplaceAll(text, "_", "")
	number, err := strconv.ParseFloat(plain, 64)
	if whole, wrong := strconv.ParseInt(plain, 0, 64); wrong == nil {
		number, err = float64(whole), nil
	}
	switch {
	case err != nil || math.IsNaN(number) || math.IsInf(number, 0):
		return Value{}, "must be a finite number"
	case k.Kind == Count && number != math.Trunc(number):
		return Value{}, "must be a whole number"
	case k.Kind == Count:
		return Value{Count: int(math.Max(math.Min(number, math.MaxInt32), math.MinInt32))}, ""
	case k.Kind == Length:
		return Value{Float: number * unit.Millimetres()}, ""
	case k.Kind == Angle:
		return Value{Float: radians(number)}, ""
	}
	return Value{Float: number}, ""
}

// fromText reads a value from the text that stands in quotes, or from a default.
func (k Key) fromText(text string, unit Unit) (Value, string) {
	switch k.Kind {
	case Text:
		return Value{Text: text}, unprintable(text)
	case Choice:
		for _, c := range k.Choices {
			if c == text {
				return Value{Text: text}, ""
			}
		}
		return Value{}, "must be one of " + quoted(k.Choices)
	case Flag:
		return Value{Flag: text == "true"}, ""
	case Length:
		mm, err := ParseLength(text, unit)
		switch {
		case err != nil:
			return Value{}, err.Error()
		case math.IsInf(mm, 0):
			return Value{}, "must be a finite length"
		}
		if _, bare := strconv.ParseFloat(strings.TrimSpace(text), 64); bare == nil {
			return Value{}, `a length in quotes must carry its unit, as "4.2 mm", "5/32 in" or "12 thou"`
		}
		return Value{Float: mm}, ""
	}
	trimmed := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "deg"))
	if k.Kind == Angle && trimmed == strings.TrimSpace(text) && k.Default != text {
		return Value{}, `an angle in quotes must carry its unit, as "18 deg"`
	}
	return k.fromNumber(trimmed, unit)
}

// longestText is how many characters a text may have: it goes into names of files, the comments
// of programs and title blocks (judgement).
const longestText = 120

// unprintable says why a text cannot be printed on paper, in a terminal and in a program.
func unprintable(text string) string {
	if n := utf8.RuneCountInString(text); n > longestText {
		return fmt.Sprintf("must be at most %d characters long, not %d", longestText, n)
	}
	for _, r := range text {
		if !unicode.IsPrint(r) {
			return fmt.Sprintf("must be of characters that can be printed; %U is none", r)
		}
	}
	return ""
}

// outside says which limit a value breaks, or nothing.
func (k Key) outside(v Value, unit Unit) string {
	if k.Min == 0 && k.Max == 0 && !k.AboveMin {
		return ""
	}
	if k.Kind == Text || k.Kind == Choice || k.Kind == Flag {
		return ""
	}
	number := v.Float
	switch k.Kind {
	case Angle:
		number = v.Float * 180 / math.Pi
	case Count:
		number = float64(v.Count)
	}
	// A limit given in one unit and typed in another may miss it by a rounding.
	slack := 1e-12 * math.Max(math.Abs(k.Min), math.Abs(k.Max))
	if number < k.Min-slack || number > k.Max+slack || k.AboveMin && number <= k.Min {
		return "must be " + k.limits(unit)
	}
	return ""
}

// limits says between what a value must lie, in the file's unit.
func (k Key) limits(unit Unit) string {
	if k.Min == 0 && k.Max == 0 {
		return "as " + k.article()
	}
	say := func(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
	word := "from"
	if k.AboveMin {
		word = "above"
	}
	most := "to"
	if k.AboveMin {
		most = "and at most"
	}
	switch k.Kind {
	case Length:
		if unit == Inch {
			return fmt.Sprintf("%s %s %s %s in", word, say(math.Round(k.Min/inch*1e4)/1e4), most, say(math.Round(k.Max/inch*1e4)/1e4))
		}
		return fmt.Sprintf("%s %s %s %s mm", word, say(k.Min), most, say(k.Max))
	case Angle:
		return fmt.Sprintf("%s %s %s %s degrees", word, say(k.Min), most, say(k.Max))
	}
	return fmt.Sprintf("%s %s %s %s", word, say(k.Min), most, say(k.Max))
}

// hint says what the key means, as a way to the right value.
func (k Key) hint() string {
	if k.Meaning == "" {
		return ""
	}
	return k.Name + ": " + k.Meaning
}

func quoted(words []string) string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = strconv.Quote(w)
	}
	return strings.Join(out, ", ")
}
