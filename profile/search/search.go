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

// Problem asks for the least change of the parameters after which a quantity comes to a
// target and nothing stands in the way.
type Problem struct {
	Parameters        []Parameter
	Target, Tolerance float64
	// Value is the quantity of a design, NaN where there is no such design.
	Value func(at []float64) float64
	// Check says what stands in the way of a design, or why there is none.
	Check func(at []float64) Obstacle
	// Neater returns places beside a solution, those with the fewest digits first, of
	// which the first that will do is taken in its stead; nil for none.
	Neater func(at []float64) [][]float64
}

// Place is a design that was looked at.
type Place struct {
	At     []float64
	Value  float64
	Change float64 // the norm of the changes from the start, each over its scale
}

// Answer is what Solve found.
type Answer struct {
	Reached bool
	// Place is the solution where the target is reached. Where it is not, it is the sound
	// design nearest to it of those looked at, if Found.
	Place
	Found bool
	// Beyond is what stands in the way just beyond that design, and AtLimit the parameter
	// that comes to its limit there; both are empty where the quantity turns back.
	Beyond  Obstacle
	AtLimit string
	// Lowest and Highest bound the quantity of the designs looked at, sound or not.
	Lowest, Highest float64
	// Moves reports whether the parameters change the quantity.
	Moves bool
	// Looked is how many values were asked for, Checked how many checks.
	Looked, Checked int
	// Direction is that of the answer from the start, each part over its scale.
	Direction []float64
}
