package lettering

// figures draws 0 to 9.
func figures() map[rune]glyph {
	return map[rune]glyph{
		'0': as(round, round, oval(0, 0, 5.2, 9)),
		'1': as(open, upright, at(0, 7.1).to(2.3, 9).to(2.3, 0)),
		'2': as(open, open, at(0.1, 6.9).swing(2.7, 9, 0).curve(5.2, 6.6, 270).curve(4.1, 4.1, 225).to(0, 0).to(5.4, 0)),
		'3': as(open, round, at(0.3, 7.4).swing(2.6, 9, 0).curve(5, 6.9, 270).curve(2.4, 4.8, 180).facing(0).curve(5.3, 2.4, 270).curve(2.6, 0, 180).bend(0, 1.7)),
		'4': as(open, open, at(4.1, 0).to(4.1, 9).to(0, 2.4).to(5.6, 2.4)),
		'5': as(open, round, at(4.8, 9).to(0.7, 9).to(0.3, 4.7).facing(38).curve(2.7, 5.6, 0).curve(5.3, 2.8, 270).curve(2.5, 0, 180).bend(0, 1.5)),
		'6': as(round, round, six()),
		'7': as(open, open, at(0, 9).to(5.2, 9).to(1.7, 0)),
		// From the waist round the upper ring and round the lower.
		'8': as(round, round, at(2.7, 4.8).facing(180).curve(0.35, 6.9, 90).curve(2.7, 9, 0).curve(5.05, 6.9, 270).curve(2.7, 4.8, 180).
			curve(0, 2.4, 270).curve(2.7, 0, 0).curve(5.4, 2.4, 90).curve(2.7, 4.8, 180)),
		'9': as(round, round, nine()),
	}
}

// six draws a 6 from its top, round the bowl and back to the side of its stem.
func six() path {
	return at(4.4, 9).facing(208).curve(0, 2.9, 270).curve(2.7, 0, 0).curve(5.4, 2.9, 90).curve(2.7, 5.6, 180).curve(0, 2.9, 270)
}

// nine draws a 6 turned half round.
func nine() path {
	return at(1, 0).facing(28).curve(5.4, 6.1, 90).curve(2.7, 9, 180).curve(0, 6.1, 270).curve(2.7, 3.4, 0).curve(5.4, 6.1, 90)
}

// signs draws what is neither a letter nor a figure, but for the space.
func signs() map[rune]glyph {
	const across = 5.0 // of plus, minus and times
	return map[rune]glyph{
		'.':  as(upright, upright, dot(dotRadius, dotRadius)),
		',':  as(upright, upright, at(0.7, 0.4).to(0, -1.6)),
		':':  as(upright, upright, dot(dotRadius, 5.2), dot(dotRadius, dotRadius)),
		'\'': as(upright, upright, at(0, 9).to(0, 6.8)),
		'-':  as(upright, upright, at(0, 4).to(3.2, 4)),
		'+':  as(upright, upright, at(across/2, 6.7).to(across/2, 1.7), at(0, 4.2).to(across, 4.2)),
		'×':  as(upright, upright, at(0, 6.2).to(4, 2.2), at(4, 6.2).to(0, 2.2)),
		'/':  as(open, open, at(0, -0.6).to(4.2, 9.6)),
		'(':  as(round, open, at(1.9, 10).facing(235).curve(0, 4, 270).curve(1.9, -2, 305)),
		')':  as(open, round, at(0, 10).facing(305).curve(1.9, 4, 270).curve(0, -2, 235)),
		'°':  as(round, round, ring(1.4, 7.6, 1.4)),
		'#':  as(open, open, at(2.2, 9).to(0.8, 0), at(4.8, 9).to(3.4, 0), at(0, 2.8).to(5.2, 2.8), at(0.4, 6.2).to(5.6, 6.2)),
		// From the leg up round the eye, down through the leg and round the bowl.
		'&': as(round, open, at(6.4, 0).to(1.6, 5.7).curve(1.1, 7.2, 90).curve(2.7, 9, 0).curve(4.2, 7.3, 270).curve(2.6, 5.1, 212).
			curve(0, 2.4, 270).curve(2.5, 0, 0).curve(6, 3.9, 80)),
	}
}
