// Package search solves and tables over an evaluation that it is given: it finds the
// parameters for which a quantity comes to a target inside limits and checks, and looks
// at many designs at once.
//
// It knows nothing of what it searches: parameters are plain numbers with limits, the
// evaluation says what the quantity comes to and what stands in the way. Nothing is left
// to chance, so that the same question has the same answer.
package search

// Parameter is a number that may be changed.
type Parameter struct {
	Name               string
	Start, Least, Most float64
	// Scale is the change that counts as one when changes of several parameters are
	// weighed against each other; it must be greater than 0.
	Scale float64
}

// Obstacle is what stands in the way of a design. The zero value is nothing.
type Obstacle struct {
	Name string
	// Excess is how far all that stands in the way is beyond its limits, each as a part
	// of its limit.
	Excess float64
	Remedy string // how it may be helped, if known
}

// Problem asks for the least change of one parameter after which a quantity comes to a
// target and nothing stands in the way.
type Problem struct {
	Parameter Parameter
	Goal
	// Value is the quantity of a design, NaN where there is no such design.
	Value func(at float64) float64
	// Check says what stands in the way of a design, or why there is none.
	Check func(at float64) Obstacle
	// Neater returns values beside a solution, those with the fewest digits first, of
	// which the first that will do is taken in its stead; nil for none.
	Neater func(at float64) []float64
}

// Goal is a value that a quantity is to come to, and within what it counts as reached.
type Goal struct{ Target, Tolerance float64 }

// Answer is what a search found.
type Answer struct {
	Reached bool
	// At is the solution where the targets are reached. Where they are not, it is the sound
	// design that comes nearest to them of those looked at, if Found: misses are counted in
	// tolerances, and the root of the sum of their squares is the least.
	At, Values []float64
	Change     float64 // the norm of the changes from the start, each over its scale
	Found      bool
	// Beyond is what stands in the way of coming nearer, and AtLimit the parameter whose
	// limit does; both are empty where no small change comes nearer.
	Beyond  Obstacle
	AtLimit string
	// Still is the index of a goal that no parameter moves, -1 where there is none.
	Still int
	// Of several parameters, Starts is how many places the search began at, Agree how many
	// of them led to the answer. Barred is true where the least change that was found did
	// not pass its checks and a longer one was taken.
	Starts, Agree int
	Barred        bool
	// Stationary is true where the first-order conditions of the least change hold at the
	// answer, before it was taken to few digits: no small change beside it is less that
	// meets the targets, keeps the limits and passes the checks.
	Stationary      bool
	Looked, Checked int
}
