package search

import (
	"context"
	"math"
	"sync"
	"sync/atomic"
)

// Table evaluates every place on a number of workers, and returns what they gave in the
// order of the places: any number of workers gives the same. Done is told, from any of
// the workers, how many are finished; nil tells nobody. Where the context ends first, the
// error is the context's and there is no table.
func Table[T any](ctx context.Context, places [][]float64, workers int, evaluate func(at []float64) T, done func(int)) ([]T, error) {
	out := make([]T, len(places))
	var next, finished atomic.Int64
	var all sync.WaitGroup
	for range max(1, workers) {
		all.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= len(places) {
					return
				}
				out[i] = evaluate(places[i])
				if n := finished.Add(1); done != nil {
					done(int(n))
				}
			}
		})
	}
	all.Wait()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return out, nil
}

// Axis is one parameter of a table: from From to To by Step, both ends included.
type Axis struct{ From, To, Step float64 }

// Values returns the values of an axis. The last is To where the steps come to it within
// a millionth of a step, and else the last step before it.
func (a Axis) Values() []float64 {
	n := int((a.To-a.From)/a.Step + 1e-6)
	out := make([]float64, n+1)
	for i := range out {
		out[i] = a.From + float64(i)*a.Step
	}
	if math.Abs(out[n]-a.To) <= 1e-6*a.Step {
		out[n] = a.To
	}
	return out
}

// Grid returns every combination of the values of several axes; the last axis changes
// fastest.
func Grid(axes ...Axis) [][]float64 {
	places := [][]float64{nil}
	for _, axis := range axes {
		var longer [][]float64
		for _, place := range places {
			for _, v := range axis.Values() {
				longer = append(longer, append(place[:len(place):len(place)], v))
			}
		}
		places = longer
	}
	return places
}
