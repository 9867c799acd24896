package toolpath

import (
	"math"

	"fullerwright/profile"
	"fullerwright/toolpath/motion"
)

// Purpose says what a move is for.
type Purpose string

// The purposes of moves.
const (
	Position Purpose = "position"  // rapid, over the bar
	Approach Purpose = "approach"  // down to where a cut begins, through air or an open groove
	RampIn   Purpose = "ramp"      // slanting into solid steel
	StepOver Purpose = "step over" // sideways into solid steel out of an open groove
	Rough    Purpose = "rough"
	Finish   Purpose = "finish"
	Retract  Purpose = "retract"
)

// cuts reports whether a move of this purpose takes off steel.
func (p Purpose) cuts() bool {
	return p == RampIn || p == StepOver || p == Rough || p == Finish
}

// Move is one movement of the cutter's tip in the work frame.
type Move struct {
	Kind    motion.Kind // Rapid, Line or Arc
	To      motion.Vec
	Plane   motion.Plane // of an arc: ZX, or XY where it may rise or fall as a helix
	Centre  motion.Vec   // of an arc
	Sweep   float64      // of an arc, radians, as motion.Motion has it
	Outside bool         // chords that stand for an arc in the plane XY must lie outside it
	Feed    float64      // mm/min, 0 for rapids
	Purpose Purpose
	Level   int  // of roughing, counted from 1
	Lane    int  // counted from 1
	Spring  bool // a finishing pass run a second time
}

// planChordError bounds how far the chords lie from a run-out that no arc of the
// machine can follow, mm. They lie above it, so they never gouge.
const planChordError = 0.0005

// course is a program in the making.
type course struct {
	setup     Setup
	clearance float64 // height of rapid moves over the centre-plane
	moves     []Move
	at        motion.Vec // where the tip is, in the work frame
	begun     bool
	level     int
	lane      int
	spring    bool
}

// fewMoves is how many moves a course has room for at first: as many as most programs have.
const fewMoves = 512

func (c *course) add(m Move) {
	m.Level, m.Lane, m.Spring = c.level, c.lane, c.spring
	if c.begun && m.To == c.at {
		return
	}
	if c.moves == nil {
		c.moves = make([]Move, 0, fewMoves)
	}
	c.moves = append(c.moves, m)
	c.at, c.begun = m.To, true
}

// work returns the place of a tip in the work frame.
func (c *course) work(p plan, s, u, h float64) motion.Vec {
	at := p.beside(s, u)
	return c.setup.Placement.Work(motion.Vec{X: at.X, Y: at.Y, Z: h})
}

// goOver takes the cutter over a place: up to the clearance plane, then across.
func (c *course) goOver(p plan, s, u float64) {
	over := c.work(p, s, u, c.clearance)
	if c.begun && c.at.Z < over.Z {
		c.add(Move{Kind: motion.Rapid, To: motion.Vec{X: c.at.X, Y: c.at.Y, Z: over.Z}, Purpose: Retract})
	}
	c.add(Move{Kind: motion.Rapid, To: over, Purpose: Position})
}

// approachGap is how far over the first steel the quick way down ends, mm.
const approachGap = 0.5

// descent is a way straight down: quickly to just over the height open, where there
// is steel to be expected, and slowly on to the height to.
type descent struct{ open, to float64 }

// lower feeds straight down at a place.
func (c *course) lower(p plan, s, u float64, d descent, feeds Feeds) {
	if quick := math.Max(d.open, d.to) + approachGap; quick < c.clearance {
		c.add(Move{Kind: motion.Line, To: c.work(p, s, u, quick), Feed: feeds.Air, Purpose: Approach})
	}
	c.add(Move{Kind: motion.Line, To: c.work(p, s, u, d.to), Feed: feeds.Plunge, Purpose: Approach})
}

// run follows a track of the tip beside the centreline, forward or backward.
func (c *course) run(p plan, t track, u float64, forward bool, feed float64, purpose Purpose) {
	pieces := t.pieces
	for i := range pieces {
		piece := pieces[i]
		if !forward {
			piece = pieces[len(pieces)-1-i]
		}
		c.runPiece(p, piece, u, forward, feed, purpose)
	}
}

func (c *course) runPiece(p plan, piece trackPiece, u float64, forward bool, feed float64, purpose Purpose) {
	stops := []float64{piece.s0}
	if piece.radius > 0 && p.straight {
		c.runArc(p, piece, u, forward, feed, purpose)
		return
	}
	for _, v := range p.vertices() {
		if v > piece.s0+1e-9 && v < piece.s1-1e-9 {
			stops = append(stops, v)
		}
	}
	stops = append(stops, piece.s1)
	if piece.radius > 0 {
		stops = arcStops(piece, stops)
	}
	for i := range stops {
		s := stops[i]
		if !forward {
			s = stops[len(stops)-1-i]
		}
		h := piece.height(s)
		switch s {
		case piece.s0:
			h = piece.h0
		case piece.s1:
			h = piece.h1
		}
		if piece.s0 == piece.s1 && i == 0 == forward {
			h = piece.h0
		}
		c.add(Move{Kind: motion.Line, To: c.work(p, s, u, h), Feed: feed, Purpose: purpose})
	}
}

// arcStops returns the places between which an arc is followed by chords.
func arcStops(piece trackPiece, stops []float64) []float64 {
	var out []float64
	turn := func(s float64) float64 { return math.Asin(math.Max(-1, math.Min(1, (s-piece.cs)/piece.radius))) }
	step := 2 * math.Acos(1-math.Min(1, planChordError/piece.radius))
	for i := 1; i < len(stops); i++ {
		from, to := turn(stops[i-1]), turn(stops[i])
		n := max(1, int(math.Ceil((to-from)/step)))
		for j := range n {
			if j == 0 {
				out = append(out, stops[i-1])
				continue
			}
			out = append(out, piece.cs+piece.radius*math.Sin(from+(to-from)*float64(j)/float64(n)))
		}
	}
	return append(out, stops[len(stops)-1])
}

// runArc follows an arc by one arc of the machine in the plane ZX.
func (c *course) runArc(p plan, piece trackPiece, u float64, forward bool, feed float64, purpose Purpose) {
	from, to := c.work(p, piece.s0, u, piece.h0), c.work(p, piece.s1, u, piece.h1)
	if !forward {
		from, to = to, from
	}
	c.add(Move{Kind: motion.Line, To: from, Feed: feed, Purpose: purpose})
	centre := c.work(p, piece.cs, u, piece.ch)
	turn := math.Asin(clampUnit((piece.s1-piece.cs)/piece.radius)) - math.Asin(clampUnit((piece.s0-piece.cs)/piece.radius))
	// Below its centre a path toward +X turns clockwise seen from +Y.
	sweep := turn
	if to.X > from.X {
		sweep = -turn
	}
	c.add(Move{Kind: motion.Arc, To: to, Plane: motion.PlaneZX, Centre: centre, Sweep: sweep, Feed: feed, Purpose: purpose})
}

func clampUnit(v float64) float64 { return math.Max(-1, math.Min(1, v)) }

// retract takes the cutter up to the clearance plane.
func (c *course) retract() {
	up := c.setup.Placement.Work(motion.Vec{Z: c.clearance}).Z
	c.add(Move{Kind: motion.Rapid, To: motion.Vec{X: c.at.X, Y: c.at.Y, Z: up}, Purpose: Retract})
}

// highestFace returns the height of the bar's highest place over the centre-plane.
func highestFace(bar profile.Bar) float64 {
	thick, _ := bar.Thickest(bar.Butt, bar.Front)
	return thick / 2
}
