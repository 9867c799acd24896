package gcode

import "fullerwright/toolpath"

// LevelLine is where a level begins in the text of a program: at a comment that says so,
// or, in a dialect without comments, at its first block.
type LevelLine struct {
	toolpath.LevelMark
	Line  int // counted from 1
	Block int // number of the first block; 0 where blocks have none
}

// mark writes the comment at the start of a level and notes its line.
func (w *writer) mark(m toolpath.LevelMark) {
	line := LevelLine{LevelMark: m, Line: w.lines + 1}
	if w.dialect.BlockNumbers.Step > 0 {
		line.Block = w.next()
	}
	w.levels = append(w.levels, line)
	text := m.Says()
	if !m.Drills {
		text += " Z" + w.coordinate(m.Z)
	}
	w.comment(text)
}
