package lettering

// Marks stand two units clear of the tallest letter below them, so that a line lies
// between the lines.
const (
	overCapital = capitals + 2
	overSmall   = smallHeight + 2
)

// marked draws the letters with marks, and those made of two, from the others.
func marked(letters map[rune]glyph) map[rune]glyph {
	all := map[rune]glyph{
		'Æ': as(open, open, at(0, 0).to(5, 9).to(9.6, 9), at(5, 9).to(5, 0).to(9.6, 0), at(5, 4.7).to(9, 4.7), at(1.5, 2.7).to(5, 2.7)),
		'æ': as(round, round, at(4.8, 6).to(4.8, 0), smallAE()),
		'ß': as(upright, round, at(0, 0).to(0, 6.8).curve(2.2, 9, 0).curve(4.3, 7, 270).curve(2.3, 5, 180).facing(0).curve(4.9, 2.5, 270).curve(2.6, 0, 180).to(1.8, 0)),
		'Ø': letters['O'].and(at(0.3, -0.8).to(6.3, 9.8)),
		'ø': letters['o'].and(at(0, -0.7).to(4.8, 6.7)),
		'Å': letters['A'].and(ring(3.5, overCapital+1, 1.3)),
		'å': letters['a'].and(ring(2.6, overSmall+1.1, 1.3)),
		'Ç': letters['C'].and(cedilla(3.2)),
		'ç': letters['c'].and(cedilla(2.4)),
		'Ñ': letters['N'].and(tilde(3.1, overCapital)),
		'ñ': letters['n'].and(tilde(2.3, overSmall)),
		'É': letters['E'].and(at(2.2, overCapital).to(3.6, overCapital+1.7)),
		'é': letters['e'].and(at(2, overSmall).to(3.4, overSmall+1.7)),
	}
	for _, pair := range []struct {
		plain, marked rune
		y             float64
	}{{'A', 'Ä', overCapital}, {'O', 'Ö', overCapital}, {'U', 'Ü', overCapital}, {'a', 'ä', overSmall}, {'o', 'ö', overSmall}, {'u', 'ü', overSmall}} {
		letter := letters[pair.plain]
		middle := letter.width() / 2
		all[pair.marked] = letter.and(dot(middle-1.4, pair.y+dotRadius), dot(middle+1.4, pair.y+dotRadius))
	}
	return all
}

// smallAE draws the part of æ that its stem divides, from the bar over the right bowl and
// round the left one, in one stroke.
func smallAE() path {
	return at(4.8, 3.1).to(9.2, 3.1).facing(90).curve(7, 6, 180).bend(4.8, 4.6).
		swing(2.3, 6, 180).curve(0, 3, 270).curve(2.3, 0, 0).bend(4.8, 1.4).
		swing(7, 0, 0).bend(8.9, 1)
}

// cedilla hangs from the middle of a bowl that ends on the baseline at x.
func cedilla(x float64) path {
	return at(x, 0).to(x, -1.5).curve(x-1.4, -2.9, 180).to(x-1.6, -2.9)
}

// tilde stands over a letter whose middle is at x.
func tilde(x, y float64) path {
	return at(x-2.3, y).facing(65).curve(x, y+0.8, -28).curve(x+2.3, y+1.6, 65)
}
