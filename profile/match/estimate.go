package match

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"fullerwright/profile"
	"fullerwright/profile/document"
)

// Estimate is one parameter that was found.
type Estimate struct {
	Key     string
	Kind    document.Kind
	Pattern float64 // in the pattern as it was
	Value   float64 // mm, radians or plain
	Error   float64 // its standard error, in the same unit
	AtLimit bool    // it came to rest at a limit of the table or of its family
}

// searchable is a model whose free parameters can be taken away.
type searchable interface {
	problem
	knife(theta []float64) profile.Knife
	quantities() []profile.Quantity
	without(index int)
	others() int // how many parameters there are besides the quantities
}

func (o *outlineModel) quantities() []profile.Quantity { return o.free }
func (o *outlineModel) others() int                    { return o.pose }
func (o *outlineModel) without(i int) {
	o.free = append(append([]profile.Quantity(nil), o.free[:i]...), o.free[i+1:]...)
}

func (m *thicknessModel) quantities() []profile.Quantity { return m.free }
func (m *thicknessModel) others() int                    { return 0 }
func (m *thicknessModel) without(i int) {
	m.free = append(append([]profile.Quantity(nil), m.free[:i]...), m.free[i+1:]...)
}

// solution is a model at its best parameters.
type solution struct {
	theta, residuals, weights []float64
	scale                     float64 // robust standard deviation of a residual, mm
	deviation                 float64 // of a reading, as the standard errors take it, mm
	errors                    []float64
	atLimit                   []bool
	fixed                     []Fixed
	freedom                   int // readings less parameters that do not rest at a limit
}

// startOf returns the start of a model: its knife as it is, and the others 0.
func startOf(s searchable, k profile.Knife) []float64 {
	var theta []float64
	for _, q := range s.quantities() {
		theta = append(theta, q.Of(k))
	}
	return append(theta, make([]float64, s.others())...)
}

// enough is how many readings over the parameters a fit must have for slips to be told from
// the rest, and for its residuals to say how good a reading is.
const enough = 5

// misfit is the spread of residuals, in accuracies of a reading, that is put down to the
// readings at most; beyond it the model is wrong.
const misfit = 5

// solve fits a model from its best start and takes away, one after the other, what the
// readings do not see, first by the accuracy of a reading and then by the spread found.
func solve(s searchable, starts [][]float64, accuracy float64) (solution, bool) {
	var out solution
	starts, out.fixed = pruned(s, starts, accuracy)
	var others [][]float64 // to be tried where the fit is in doubt
	if len(starts) > 1 {
		others = slices.Clone(starts)
	}
	for {
		if len(starts[0]) == 0 {
			return out.ofNothing(s)
		}
		theta, ok := bestStart(s, starts, accuracy)
		if !ok {
			return solution{}, false
		}
		theta, scale, ok := robustFit(s, theta)
		if !ok {
			return solution{}, false
		}
		found := doubted(s, others, place{theta, scale}, accuracy)
		out.theta, out.scale = found.theta, found.scale
		if !out.assess(s, accuracy) {
			return solution{}, false
		}
		// Where no knife of the family fits, the misfit says nothing of what is seen.
		index, ratio := worstSeen(out.errors, out.theta, s.quantities())
		if index < 0 || ratio*math.Min(1, misfit*accuracy/out.deviation) <= blind {
			return out, true
		}
		q := s.quantities()[index]
		out.fixed = append(out.fixed, unseen(q, starts[0][index], out.errors[index]))
		s.without(index)
		for i := range others {
			others[i] = dropped(others[i], index)
		}
		// Go on from where it was, too.
		starts = [][]float64{dropped(starts[0], index), dropped(out.theta, index)}
	}
}

// ofNothing is the solution of a model of which the readings see no parameter.
func (o solution) ofNothing(p problem) (solution, bool) {
	r, ok := p.residuals(nil)
	if !ok {
		return solution{}, false
	}
	square := 0.0
	for _, v := range r {
		square += v * v / float64(len(r))
	}
	o.theta, o.residuals, o.scale = nil, r, math.Sqrt(square)
	return o, true
}

func dropped(theta []float64, index int) []float64 {
	return append(append([]float64(nil), theta[:index]...), theta[index+1:]...)
}

// pruned takes away what the readings cannot see at the first start.
func pruned(s searchable, starts [][]float64, accuracy float64) ([][]float64, []Fixed) {
	var fixed []Fixed
	for {
		r, jacobian, ok := s.linearise(starts[0])
		if !ok || len(s.quantities()) == 0 {
			return starts, fixed
		}
		ones := make([]float64, len(r))
		for i := range ones {
			ones[i] = 1
		}
		errors := errorsOf(jacobian, ones, make([]bool, len(starts[0])), accuracy)
		index, ratio := worstSeen(errors, starts[0], s.quantities())
		if len(r) > len(starts[0]) && (index < 0 || ratio <= blind) {
			return starts, fixed
		}
		if index < 0 {
			index = len(s.quantities()) - 1
		}
		fixed = append(fixed, unseen(s.quantities()[index], starts[0][index], errors[index]))
		s.without(index)
		for i := range starts {
			starts[i] = dropped(starts[i], index)
		}
	}
}

func unseen(q profile.Quantity, value, err float64) Fixed {
	why := "the measurements do not see it; as the pattern has it"
	if err < 3*math.Abs(value) {
		why = fmt.Sprintf("the measurements hardly see it (it would be good to %s); as the pattern has it", say(q.Kind, err))
	}
	return Fixed{Key: q.Key, Kind: q.Kind, Value: value, Why: why}
}

// say writes a value of a kind.
func say(kind document.Kind, v float64) string {
	switch kind {
	case document.Length:
		return fmt.Sprintf("%.2f mm", v)
	case document.Angle:
		return fmt.Sprintf("%.2f degrees", v*180/math.Pi)
	}
	return fmt.Sprintf("%.3f", v)
}

// briefly is how many steps a start is followed before it is compared with others.
const briefly = 8

// bestStart follows every start a few steps and returns where the one came that has the
// least sum of distances. A start that comes within twice the accuracy of a reading is
// taken at once.
func bestStart(p problem, starts [][]float64, accuracy float64) ([]float64, bool) {
	var best []float64
	least := math.Inf(1)
	for _, start := range starts {
		r, ok := p.residuals(start)
		if !ok {
			continue
		}
		theta := minimise(p, start, huber(), scaleOf(r, len(start)), briefly)
		r, _ = p.residuals(theta)
		if scaleOf(r, len(theta)) < 2*accuracy {
			return theta, true
		}
		sum := 0.0
		for _, v := range r {
			sum += math.Abs(v)
		}
		if sum < least {
			best, least = theta, sum
		}
	}
	return best, best != nil
}

// assess fills in residuals, weights and standard errors. The covariance is that of an
// M-estimate, the square of a deviation times the inverse of J'WJ over the mean weight, so
// that a reading without weight tells nothing; both take leverage into account (see
// fitted.slopes and fitted.weights). Where too few readings are over, the deviation is
// their spread or the accuracy of a reading, whichever is more.
func (o *solution) assess(p problem, accuracy float64) bool {
	r, jacobian, ok := p.linearise(o.theta)
	if !ok {
		return false
	}
	o.atLimit = atLimits(p, o.theta)
	f := newFitted(r, jacobian, o.atLimit)
	o.residuals, o.weights, o.freedom = r, f.weights(tukey(), o.scale), f.freedom
	if o.deviation, ok = f.deviation(tukey(), o.scale); !ok {
		o.deviation = math.Max(accuracy, o.scale)
	}
	weight := 0.0
	for _, w := range o.weights {
		weight += w / float64(len(r))
	}
	o.errors = errorsOf(jacobian, o.weights, o.atLimit, o.deviation*math.Sqrt(weight)*correlation(r, o.weights))
	return true
}

// errorsOf returns the standard errors of the parameters that are not at a limit, 0 of
// those that are.
func errorsOf(jacobian *mat.Dense, weights []float64, atLimit []bool, deviation float64) []float64 {
	free := moving(atLimit)
	out := make([]float64, len(atLimit))
	if len(free) == 0 {
		return out
	}
	c := covariance(columns(jacobian, free), weights, deviation)
	for a, column := range free {
		out[column] = math.Sqrt(math.Max(0, c.At(a, a)))
	}
	return out
}

// atLimits says which parameters lie at one of their limits.
func atLimits(p problem, theta []float64) []bool {
	least, most := p.limits()
	out := make([]bool, len(theta))
	for i, v := range theta {
		out[i] = v <= least[i] || v >= most[i]
	}
	return out
}

// correlation returns by what standard errors grow where neighbouring residuals go
// together, as those of a smoothed trace do: the root of (1 + r)/(1 - r) for a correlation
// r of neighbours (the effective number of readings of a first-order process), where r is
// beyond twice its own standard error, 1/sqrt(n); otherwise 1. Residuals stand in the
// order of the file.
func correlation(residuals, weights []float64) float64 {
	both, one, n := 0.0, 0.0, 0
	for i := range residuals {
		one += float64(weights[i]*residuals[i]) * residuals[i]
		if i > 0 {
			both += math.Sqrt(weights[i]*weights[i-1]) * residuals[i] * residuals[i-1]
		}
		n++
	}
	r := both / math.Max(one, 1e-300)
	if n < 100 || r < 2/math.Sqrt(float64(n)) {
		return 1
	}
	r = math.Min(r, 0.9)
	return math.Sqrt((1 + r) / (1 - r))
}
