package lettering

// The bowl of b and p, and turned about that of a, d, g and q: it leaves the stem at an
// angle wide enough that the two lines part within a line's width or two.
func bowlRight() path {
	return at(0, 4.6).swing(2.5, 6, 0).curve(4.8, 3, 270).curve(2.5, 0, 180).bend(0, 1.4)
}

func bowlLeft() path {
	return at(4.8, 4.6).swing(2.3, 6, 180).curve(0, 3, 270).curve(2.3, 0, 0).bend(4.8, 1.4)
}

// arch draws the arch of n from a stem at x to a foot as far right as the width.
func arch(x, width float64) path {
	return at(x, 3.9).swing(x+0.55*width, 6, 0).curve(x+width, 3.9, 270).to(x+width, 0)
}

// smallLetters draws a to z.
func smallLetters() map[rune]glyph {
	return map[rune]glyph{
		'a': as(round, upright, bowlLeft(), at(4.8, 6).to(4.8, 0)),
		'b': as(upright, round, at(0, 9).to(0, 0), bowlRight()),
		'c': as(round, open, smallC()),
		'd': as(round, upright, bowlLeft(), at(4.8, 9).to(4.8, 0)),
		'e': as(round, round, at(0, 3.1).to(4.7, 3.1).facing(90).curve(2.4, 6, 180).curve(0, 3.1, 270).curve(2.5, 0, 0).bend(4.4, 1)),
		'f': as(open, open, at(3.2, 9).to(2.9, 9).curve(1.3, 7.3, 270).to(1.3, 0), at(0, 6).to(2.9, 6)),
		'g': as(round, upright, bowlLeft(), at(4.8, 6).to(4.8, -0.9).curve(2.5, -3, 180).bend(0.5, -2.3)),
		'h': as(upright, upright, at(0, 9).to(0, 0), arch(0, 4.6)),
		'i': as(upright, upright, at(dotRadius, 6).to(dotRadius, 0), dot(dotRadius, 8.4)),
		'j': as(open, upright, at(1.5, 6).to(1.5, -1.4).curve(0, -3, 180), dot(1.5, 8.4)),
		'k': as(upright, open, at(0, 9).to(0, 0), at(4.2, 6).to(0, 2), at(1.47, 3.4).to(4.6, 0)),
		'l': as(upright, open, at(0, 9).to(0, 1.4).curve(1.4, 0, 0).to(1.7, 0)),
		'm': as(upright, upright, at(0, 6).to(0, 0), arch(0, 4), arch(4, 4)),
		'n': as(upright, upright, at(0, 6).to(0, 0), arch(0, 4.6)),
		'o': as(round, round, oval(0, 0, 4.8, 6)),
		'p': as(upright, round, at(0, 6).to(0, -3), bowlRight()),
		'q': as(round, upright, bowlLeft(), at(4.8, 6).to(4.8, -3)),
		'r': as(upright, open, at(0, 6).to(0, 0), at(0, 3.9).swing(2.2, 6, 0).to(2.8, 6)),
		's': as(round, round, at(4, 5.1).swing(2.1, 6, 180).curve(0.2, 4.5, 270).curve(2.1, 3.1, -15).curve(4.2, 1.6, 270).curve(2.1, 0, 180).bend(0, 1)),
		't': as(open, open, at(1.3, 8.3).to(1.3, 1.5).curve(2.8, 0, 0).to(3.2, 0), at(0, 6).to(3, 6)),
		'u': as(upright, upright, at(0, 6).to(0, 2.1).curve(2.07, 0, 0).bend(4.6, 2.1), at(4.6, 6).to(4.6, 0)),
		'v': as(open, open, at(0, 6).to(2.4, 0).to(4.8, 6)),
		'w': as(open, open, at(0, 6).to(1.8, 0).to(3.6, 6).to(5.4, 0).to(7.2, 6)),
		'x': as(open, open, at(0, 6).to(4.4, 0), at(4.4, 6).to(0, 0)),
		'y': as(open, open, at(0, 6).to(2.4, 0), at(4.8, 6).to(1.2, -3)),
		'z': as(open, open, at(0, 6).to(4.2, 6).to(0, 0).to(4.2, 0)),
	}
}

// smallC draws a c.
func smallC() path {
	return at(4.3, 4.8).swing(2.4, 6, 180).curve(0, 3, 270).curve(2.4, 0, 0).bend(4.3, 1.2)
}
