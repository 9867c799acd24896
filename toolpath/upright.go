package toolpath

import (
	"math"

	"fullerwright/profile/geom"
	"fullerwright/toolpath/motion"
)

// at returns a place over the blade in the work frame, h over the centre-plane.
func (c *course) place(p geom.Point, h float64) motion.Vec {
	return c.setup.Placement.Work(motion.Vec{X: p.X, Y: p.Y, Z: h})
}

// turned reports whether a turn to the left over the blade is one to the right for the
// machine: climb milling then runs the other way.
func (s Setup) turned() bool { return s.Placement.SignX*s.Placement.SignY < 0 }

// over takes the cutter up to the clearance plane and across.
func (c *course) over(p geom.Point) {
	above := c.place(p, c.clearance)
	if c.begun && c.at.Z < above.Z {
		c.add(Move{Kind: motion.Rapid, To: motion.Vec{X: c.at.X, Y: c.at.Y, Z: above.Z}, Purpose: Retract})
	}
	c.add(Move{Kind: motion.Rapid, To: above, Purpose: Position})
}

// sink takes the cutter straight down to a height where there is no steel under it.
func (c *course) sink(p geom.Point, h float64, feeds Feeds) {
	c.add(Move{Kind: motion.Line, To: c.place(p, h), Feed: feeds.Air, Purpose: Approach})
}

// follow takes the tip along lines and arcs at a height, from where it is to the start
// of the first and on. Where climb says so the steel lies to the right of the way.
func (c *course) follow(pieces []geom.Piece, h, feed float64, purpose Purpose) {
	for _, piece := range pieces {
		if start := c.place(piece.Start(), h); start != c.at {
			c.add(Move{Kind: motion.Line, To: start, Feed: feed, Purpose: purpose})
		}
		arc, round := piece.(geom.Arc)
		if !round {
			c.add(Move{Kind: motion.Line, To: c.place(piece.End(), h), Feed: feed, Purpose: purpose})
			continue
		}
		c.round(arc, h, feed, purpose)
	}
}

// slope follows pieces from one height straight to another over their length.
func (c *course) slope(pieces []geom.Piece, from, to, feed float64, purpose Purpose) {
	whole, s := loopOf(pieces).length, 0.0
	for _, piece := range pieces {
		s += piece.Length()
		h := from + (to-from)*math.Min(1, s/whole)
		if arc, round := piece.(geom.Arc); round {
			c.round(arc, h, feed, purpose)
			continue
		}
		c.add(Move{Kind: motion.Line, To: c.place(piece.End(), h), Feed: feed, Purpose: purpose})
	}
}

// mostSweep is the widest arc of a program, radians: wider ones are divided.
const mostSweep = 170 * math.Pi / 180

// round takes the tip along an arc, and straight from the height it has to the one given.
// The steel lies to the right of the way for the
// machine (climb milling), so that an arc which turns right runs round the steel.
func (c *course) round(arc geom.Arc, h, feed float64, purpose Purpose) {
	n := int(math.Ceil(math.Abs(float64(arc.Sweep)) / mostSweep))
	turn := c.setup.Placement.SignX * c.setup.Placement.SignY
	from, to := c.at.Z, c.place(arc.End(), h).Z
	for i := 1; i <= n; i++ {
		part := float64(i) / float64(n)
		sweep := float64(arc.Sweep) / float64(n) * turn
		end, centre := c.place(arc.At(part), h), c.place(arc.Centre, h)
		end.Z, centre.Z = from+(to-from)*part, c.at.Z
		c.add(Move{Kind: motion.Arc, To: end, Plane: motion.PlaneXY, Centre: centre, Sweep: sweep,
			Feed: feed, Purpose: purpose, Outside: sweep < 0})
	}
}

// reversed returns pieces travelled the other way.
func reversed(pieces []geom.Piece) []geom.Piece {
	out := make([]geom.Piece, len(pieces))
	for i, p := range pieces {
		out[len(pieces)-1-i] = p.Reverse()
	}
	return out
}
