package proof

import "math"

// Target is what a face is to be after an operation: between two surfaces, and upright
// at its walls.
type Target struct {
	// Low is the surface that the cut must not lie below: -Inf where no steel is to be
	// left, NaN where whatever is left does not matter.
	Low Surface
	// High is the surface that it must not lie above; nil for Low itself. The two differ
	// where a cutter may leave a corner rounded.
	High Surface
	// Walls are looked at one by one: beside a wall a height says nothing of how far
	// sideways it is off.
	Walls []Wall
}

// Exactly returns the target of one surface without walls.
func Exactly(design Surface) Target { return Target{Low: design} }

func (t Target) high() Surface {
	if t.High == nil {
		return t.Low
	}
	return t.High
}

// Wall is a place where the finished steel stands upright: a point of it, the direction
// of length 1 that leads away from the steel, and the height at which it is looked at.
type Wall struct{ X, Y, AwayX, AwayY, Height float64 }

// wallReach is how far from where it should be a wall is looked for, and wallStep in
// which steps, mm.
const (
	wallReach = 1.0
	wallStep  = 0.01
)

// stood reports whether there was steel behind a wall before the program at hand: what an
// earlier one took away is not its doing.
func (m *Map) stood(w Wall, earlier []sweep) bool {
	x, y := w.X-wallBehind*w.AwayX, w.Y-wallBehind*w.AwayY
	return m.heightAfter(earlier, x, y) > w.Height
}

// wallBehind is how far behind a wall its steel is looked for, mm.
const wallBehind = 0.001

// near returns the sweeps that reach the surroundings of a wall, of those from one number
// to another.
func (m *Map) near(w Wall, from, to int) []sweep {
	var out []sweep
	for i := from; i < to; i++ {
		r := &m.cuts[i].reach
		if w.X >= r.MinX-wallReach && w.X <= r.MaxX+wallReach && w.Y >= r.MinY-wallReach && w.Y <= r.MaxY+wallReach && m.cuts[i].lowest < w.Height {
			out = append(out, m.cuts[i])
		}
	}
	return out
}

// off returns how far a wall of the cut stands from where it should: above 0 where steel
// is left, below 0 where too much is gone; at most wallReach.
func (m *Map) off(w Wall, sweeps []sweep) float64 {
	steel := func(out float64) bool {
		return m.heightAfter(sweeps, w.X+out*w.AwayX, w.Y+out*w.AwayY) > w.Height
	}
	side, here := 1.0, steel(0)
	if !here {
		side = -1
	}
	for out := wallStep; out <= wallReach; out += wallStep {
		if steel(side*out) == here {
			continue
		}
		near, far := out-wallStep, out
		for far-near > 1e-7 {
			if middle := (near + far) / 2; steel(side*middle) == here {
				near = middle
			} else {
				far = middle
			}
		}
		return side * near
	}
	return side * wallReach
}

// lineAt returns the line of the program that last cut the node nearest to a place, 0
// where there is none.
func (m *Map) lineAt(x, y float64) int {
	column := nearest((x-m.Grid.X0)/m.Grid.Step, m.Grid.Columns)
	row := nearest((y-m.Grid.Y0)/m.Grid.Step, m.Grid.Rows)
	return int(m.Line[row*m.Grid.Columns+column])
}

// compareWalls finds the walls that are off most.
func (j *Judgement) compareWalls(m *Map, walls []Wall) {
	for _, w := range walls {
		earlier := m.near(w, 0, m.before)
		if !m.stood(w, earlier) {
			continue
		}
		d := m.off(w, append(earlier, m.near(w, m.before, len(m.cuts))...))
		// The line stands in the cut beside the wall.
		line := m.lineAt(w.X+m.Grid.Step*w.AwayX, w.Y+m.Grid.Step*w.AwayY)
		if -d > j.Gouge.Value {
			j.Gouge = Deviation{-d, w.X, w.Y, line}
		}
		if d > j.Leftover.Value {
			j.Leftover = Deviation{d, w.X, w.Y, line}
		}
	}
}

// from returns how far a cut lies from the target at a place, upright: below 0 under
// Low, above 0 over High, 0 between; NaN where neither the design nor the cut goes into
// the stock, and where it does not matter.
func (m *Map) from(t Target, x, y, cut, stock float64) float64 {
	low := t.Low.Height(x, y)
	wanted := math.Min(low, stock)
	switch {
	case math.IsNaN(low), !(wanted < stock || cut < stock):
		return math.NaN()
	case math.IsInf(low, -1):
		// Below the bar there is nothing to leave: its faces lie alike on both sides of
		// the centre-plane.
		return math.Max(0, cut+m.bar.Height(x, y))
	case cut < wanted:
		return cut - wanted
	case t.High == nil:
		return cut - wanted
	}
	return math.Max(0, cut-math.Min(t.High.Height(x, y), stock))
}

// Settle takes the map as it stands for the stock of what is to come: the next program
// is judged by what it does itself.
func (m *Map) Settle() {
	copy(m.stock, m.Height)
	clear(m.Line)
	m.before = len(m.cuts)
}

// CutThrough takes away, from two faces of one bar on the same grid, the nodes at which
// their cuts meet: there is no steel left.
func CutThrough(right, left *Map) {
	for i := range right.Height {
		if right.Height[i]+left.Height[i] <= 0 {
			right.Height[i], left.Height[i] = math.Inf(-1), math.Inf(-1)
		}
	}
}
