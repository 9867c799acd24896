package proof

import (
	"math"

	"fullerwright/toolpath/motion"
)

// Block is what one motion did to the bar.
type Block struct {
	Motion  motion.Motion // in the face frame
	Deepest float64       // greatest height it took off at a node, mm
	Removed float64       // steel, mm³
	X, Y    float64       // where it took off most
	// Steepest is the steepest way down, as way down over way along.
	Steepest float64
	// Descents say how much was taken off on the parts of the way that go down.
	Descents []Descent
	// How far steel, as it stood before this motion, reached into the shank, into the
	// holder (of a cutter for which they are known), or into the box that a rapid move
	// in several axes may take on a machine that does not run it straight, mm.
	Shank, Holder, Corner Deviation
}

// Descent is a part of a motion that goes down.
type Descent struct {
	Slope   float64 // steepest way down over way along; +Inf straight down
	Deepest float64 // greatest height it took off at a node, mm
	X, Y    float64 // where
}

// count adds to a block what one of its sweeps did.
func (b *Block) count(s sweep, t tally) {
	place := Deviation{t.deepest, t.x, t.y, s.line}
	greater := func(d *Deviation) {
		if t.deepest > d.Value {
			*d = place
		}
	}
	switch s.job {
	case meetsShank:
		greater(&b.Shank)
		return
	case meetsHolder:
		greater(&b.Holder)
		return
	case meetsCorner:
		greater(&b.Corner)
		return
	}
	b.Removed += t.removed
	if t.deepest > b.Deepest {
		b.Deepest, b.X, b.Y = t.deepest, t.x, t.y
	}
	if s.fall > 0 && t.deepest > 0 {
		b.descend(Descent{s.fall, t.deepest, t.x, t.y})
	}
}

// likeSlope is how near the slopes of two parts lie that are counted as one, of the
// greater.
const likeSlope = 1e-3

func (b *Block) descend(d Descent) {
	if n := len(b.Descents); n > 0 {
		last := &b.Descents[n-1]
		if last.Slope == d.Slope || math.Abs(last.Slope-d.Slope) <= likeSlope*d.Slope {
			last.Slope = math.Max(last.Slope, d.Slope)
			if d.Deepest > last.Deepest {
				last.Deepest, last.X, last.Y = d.Deepest, d.X, d.Y
			}
			return
		}
	}
	b.Descents = append(b.Descents, d)
}
