package gcode

import (
	"fmt"
	"math"

	"fullerwright/toolpath"
	"fullerwright/toolpath/dialect"
	"fullerwright/toolpath/motion"
)

// writerChordError bounds how far chords lie from an arc that a dialect cannot
// write, mm. They lie on the side of the arc away from the finished steel: above the
// dipping arcs of a fuller, and outside an arc that runs round the steel. They leave
// that much and never gouge.
const writerChordError = 0.0005

// spelled is a move as a dialect can say it: a rapid, a straight move, an arc in one
// block, or a hole by the cycle. A hole begins and ends over its place.
type spelled struct {
	toolpath.Move
	hole *hole               // nil where it is none
	mark *toolpath.LevelMark // what begins with it; nil for nothing
}

// hole is a hole for the drill cycle, mm and mm/min: from the height the feed begins at
// to the bottom, in pecks.
type hole struct{ over, bottom, peck, feed float64 }

// spell returns the moves of a job as a dialect can say them.
func spell(job *toolpath.Job, d dialect.Dialect) []spelled {
	var out []spelled
	var from motion.Vec
	marks := job.LevelMarks()
	for i := 0; i < len(job.Moves); {
		m := job.Moves[i]
		var mark *toolpath.LevelMark
		if len(marks) > 0 && marks[0].Move <= i {
			mark, marks = &marks[0], marks[1:]
		}
		if n, h := holeAt(job, i, d); n > 0 {
			m = job.Moves[i+n-1]
			m.To = motion.Vec{X: from.X, Y: from.Y, Z: job.Clearance}
			out = append(out, spelled{m, &h, mark})
			i += n
			continue
		}
		for _, part := range inParts(m, from, d) {
			out = append(out, spelled{Move: part, mark: mark})
			mark = nil
		}
		from = m.To
		i++
	}
	return out
}

// inParts returns the parts of one move.
func inParts(m toolpath.Move, from motion.Vec, d dialect.Dialect) []toolpath.Move {
	switch {
	case m.Kind == motion.Rapid || m.Kind == motion.Line:
		return []toolpath.Move{m}
	case m.Kind != motion.Arc:
		panic(fmt.Sprintf("impossible: a planned move of kind %d", m.Kind))
	}
	arc := motion.Motion{Kind: motion.Arc, From: from, To: m.To, Plane: m.Plane, Centre: m.Centre, Sweep: m.Sweep}
	flat := m.Plane == motion.PlaneXY && d.ArcsXY && (d.Helices || m.To.Z == from.Z)
	if flat || m.Plane == motion.PlaneZX && d.ArcsZX {
		return arcs(m, arc, int(math.Ceil(math.Abs(m.Sweep)/d.SweepMost.Radians()-1e-9)))
	}
	return chords(m, arc)
}

// arcs parts an arc into n of the same sweep.
func arcs(m toolpath.Move, arc motion.Motion, n int) []toolpath.Move {
	if n <= 1 {
		return []toolpath.Move{m}
	}
	out := make([]toolpath.Move, n)
	for i := range out {
		out[i] = m
		out[i].Sweep = m.Sweep / float64(n)
		out[i].To = arc.At(float64(i+1) / float64(n))
	}
	out[n-1].To = m.To
	return out
}

// chords follows an arc by straight moves: between points on it, or, where they must
// lie outside it, along its tangents.
func chords(m toolpath.Move, arc motion.Motion) []toolpath.Move {
	radius := arc.Radius()
	step := 2 * math.Acos(1-math.Min(1, writerChordError/radius))
	if m.Outside {
		step = 2 * math.Acos(radius/(radius+writerChordError))
	}
	n := max(1, int(math.Ceil(math.Abs(m.Sweep)/step)))
	var out []toolpath.Move
	straight := func(to motion.Vec) {
		chord := m
		chord.Kind, chord.To = motion.Line, to
		out = append(out, chord)
	}
	if !m.Outside {
		for i := 1; i < n; i++ {
			straight(arc.At(float64(i) / float64(n)))
		}
		straight(m.To)
		return out
	}
	// The corners of the tangents stand half way between the places where they touch.
	corner := 1 / math.Cos(math.Abs(m.Sweep)/float64(2*n))
	for i := range n {
		p := arc.At((float64(i) + 0.5) / float64(n))
		straight(motion.Vec{X: m.Centre.X + (p.X-m.Centre.X)*corner, Y: m.Centre.Y + (p.Y-m.Centre.Y)*corner, Z: p.Z})
	}
	straight(m.To)
	return out
}

// holeAt returns how many of a job's moves, from one on, drill a hole that the cycle
// drills as well, and the hole: straight down and up again at one place, from over the
// bar. The cycle goes no deeper in one peck than the moves do.
func holeAt(job *toolpath.Job, first int, d dialect.Dialect) (n int, h hole) {
	if !d.DrillCycle || job.Step.Bore == 0 || first == 0 || job.Moves[first-1].To.Z < job.Clearance-1e-9 {
		return 0, hole{}
	}
	place := job.Moves[first-1].To
	over := job.Moves[first].To.Z
	h = hole{over: over, bottom: over}
	for _, m := range job.Moves[first:] {
		if m.To.X != place.X || m.To.Y != place.Y {
			break
		}
		n++
		if m.Kind != motion.Line {
			continue
		}
		// The first way down begins over the face, so that it is no measure of a peck where
		// others follow.
		if h.bottom == over {
			h.peck = over - m.To.Z
		} else {
			h.peck = h.bottom - m.To.Z
		}
		h.bottom, h.feed = m.To.Z, m.Feed
	}
	if h.peck <= 0 {
		return 0, hole{}
	}
	h.peck = (over - h.bottom) / math.Ceil((over-h.bottom)/h.peck-1e-9)
	return n, h
}
