package lettering

// capitalLetters draws A to Z.
func capitalLetters() map[rune]glyph {
	return map[rune]glyph{
		'A': as(open, open, at(0, 0).to(3.5, 9).to(7, 0), at(1.05, 2.7).to(5.95, 2.7)),
		// Along the middle bar into the upper bowl, down the stem and round the lower.
		'B': as(upright, round, at(0, 4.7).to(3, 4.7).curve(3, 9, 180).to(0, 9).to(0, 0).to(3.2, 0).curve(3.2, 4.7, 180).to(3, 4.7)),
		'C': as(round, open, capitalC(6.1)),
		'D': as(upright, round, at(0, 0).to(0, 9).to(2.4, 9).curve(6.2, 4.5, 270).curve(2.4, 0, 180).to(0, 0)),
		'E': as(upright, open, at(5, 9).to(0, 9).to(0, 0).to(5, 0), at(0, 4.7).to(4.3, 4.7)),
		'F': as(upright, open, at(4.9, 9).to(0, 9).to(0, 0), at(0, 4.5).to(4.1, 4.5)),
		'G': as(round, upright, at(5.9, 7.2).swing(3.2, 9, 180).curve(0, 4.5, 270).curve(3.2, 0, 0).curve(6.2, 2.8, 90).to(6.2, 4.3).to(3.7, 4.3)),
		'H': as(upright, upright, at(0, 9).to(0, 0), at(0, 4.7).to(6.2, 4.7), at(6.2, 9).to(6.2, 0)),
		'I': as(upright, upright, at(0, 9).to(0, 0)),
		'J': as(open, upright, at(3.8, 9).to(3.8, 2.3).curve(1.7, 0, 180).bend(0, 0.8)),
		'K': as(upright, open, at(0, 9).to(0, 0), at(5.5, 9).to(0, 3.2), at(1.65, 4.94).to(5.9, 0)),
		'L': as(upright, open, at(0, 9).to(0, 0).to(4.7, 0)),
		'M': as(upright, upright, at(0, 0).to(0, 9).to(3.7, 2.6).to(7.4, 9).to(7.4, 0)),
		'N': as(upright, upright, at(0, 0).to(0, 9).to(6.2, 0).to(6.2, 9)),
		'O': as(round, round, oval(0, 0, 6.6, 9)),
		'P': as(upright, open, at(0, 0).to(0, 9).to(3, 9).curve(3, 4.2, 180).to(0, 4.2)),
		'Q': as(round, open, oval(0, 0, 6.6, 9), at(4.2, 2.3).to(6.6, -0.5)),
		'R': as(upright, open, at(0, 0).to(0, 9).to(3, 9).curve(3, 4.2, 180).to(0, 4.2), at(2.6, 4.2).to(5.6, 0)),
		'S': as(round, round, at(5.1, 7.5).swing(2.75, 9, 180).curve(0.3, 6.75, 270).curve(2.75, 4.65, -18).curve(5.5, 2.4, 270).curve(2.75, 0, 180).bend(0, 1.7)),
		'T': as(open, open, at(0, 9).to(6, 9), at(3, 9).to(3, 0)),
		'U': as(upright, upright, at(0, 9).to(0, 3).curve(3, 0, 0).curve(6, 3, 90).to(6, 9)),
		'V': as(open, open, at(0, 9).to(3.4, 0).to(6.8, 9)),
		'W': as(open, open, at(0, 9).to(2.4, 0).to(4.8, 9).to(7.2, 0).to(9.6, 9)),
		'X': as(open, open, at(0, 9).to(6, 0), at(6, 9).to(0, 0)),
		'Y': as(open, open, at(0, 9).to(3.2, 4.2).to(6.4, 9), at(3.2, 4.2).to(3.2, 0)),
		'Z': as(open, open, at(0, 9).to(5.6, 9).to(0, 0).to(5.6, 0)),
	}
}

// capitalC draws a C that reaches to the right as far as given.
func capitalC(right float64) path {
	return at(right, 7.1).swing(3.2, 9, 180).curve(0, 4.5, 270).curve(3.2, 0, 0).bend(right, 1.9)
}
