package gcode

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// plainText returns a text in the characters that every control takes: capitals, digits and
// a few signs. A letter with a mark loses the mark, a few others are spelled as is usual; one
// of another script is a dash, so that it is seen to be left out. All else is a space.
func plainText(text string) string {
	text = strings.NewReplacer("ß", "SS", "æ", "AE", "Æ", "AE", "œ", "OE", "Œ", "OE", "ø", "O", "Ø", "O", "đ", "D", "Đ", "D", "ð", "D", "Ð", "D", "þ", "TH", "Þ", "TH", "ł", "L", "Ł", "L", "ı", "I").Replace(text)
	clean := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z':
			return r - 'a' + 'A'
		case r >= 'A' && r <= 'Z', r >= '0' && r <= '9', strings.ContainsRune(" .,+-=/", r):
			return r
		case unicode.Is(unicode.Mn, r):
			return -1
		case unicode.IsLetter(r):
			return '-'
		}
		return ' '
	}, norm.NFKD.String(text))
	return strings.Join(strings.Fields(clean), " ")
}
