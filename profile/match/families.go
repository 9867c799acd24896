package match

import (
	"math"
	"slices"
	"sort"

	"fullerwright/profile/geom"
)

// Candidate is a family that was tried.
type Candidate struct {
	Family     string
	Deviation  float64 // robust standard deviation from its best knife, mm
	Parameters int
	// Behind is how far its criterion lies behind the best, 0 for the best.
	Behind float64
	Reason string // why it was left out; empty where it was fitted
}

// Matched is what the readings say.
type Matched struct {
	Fit        Fit
	Candidates []Candidate // the best first
	Verdict    Verdict
	// Alike are the families that follow the readings as well as the one chosen, which was
	// taken because its proportions are the nearest.
	Alike []string
	// BetterMirrored is true where a family reproduces the trace, or the table, only the
	// other way up.
	BetterMirrored bool
}

// trial is a family's fit while families are compared.
type trial struct {
	family Family
	layout layout
	model  *outlineModel
	found  solution
	err    error
}

// familyPoints is how many points of a trace families are compared on.
const familyPoints = 160

// Match finds the family and its parameters that reproduce the readings. Within is how
// closely the knife must follow them to be called reproduced, mm. With left, a trace is
// taken for the left face, point to the left with the spine up. The error says that no
// family has a knife of that size.
func Match(m Measurements, families []Family, options Options) (Matched, error) {
	lay, err := startLayouts(m)
	if err != nil {
		return Matched{}, err
	}
	few := thinned(m, familyPoints)
	wanted, other := lay[0], lay[1]
	if options.Left {
		wanted, other = other, wanted
	}
	trials := make([]trial, len(families))
	for i, f := range families {
		trials[i] = attempt(few, f, wanted)
	}
	ranked, candidates := rank(trials)
	if len(ranked) == 0 {
		return Matched{Candidates: candidates}, noFamily(candidates)
	}
	out := Matched{Candidates: candidates}
	chosen, alike := nearest(ranked, candidates)
	out.Alike = alike
	full := chosen
	if len(few.Readings) < len(m.Readings) {
		full = refined(m, chosen)
	}
	if full.err != nil {
		return Matched{}, full.err
	}
	out.Fit, err = complete(m, full.family, full.model, full.found)
	if err != nil {
		return Matched{}, err
	}
	out.Verdict = judge(m, out.Fit, options.Within)
	if !out.Verdict.Reproduced && m.has(Spine, Edge) {
		out.BetterMirrored = betterMirrored(turnedOver(m), families, wanted, options.Within)
	} else if m.Traced && !out.Verdict.Reproduced {
		out.BetterMirrored = betterMirrored(few, families, other, options.Within)
	}
	return out, nil
}

// Options are what a maker may say beside the readings.
type Options struct {
	Within float64 // mm; 0 for the usual
	Left   bool    // a trace shows the left face
}

func attempt(m Measurements, f Family, l layout) trial {
	model, found, err := fitOutline(m, f, l)
	return trial{f, l, model, found, err}
}

// refined fits a family again to more readings from where it came with few. What those
// did not see, or drove to a limit, is looked for again from where the pattern has it.
func refined(m Measurements, t trial) trial {
	k := t.model.base.Copied()
	for i, q := range t.model.free {
		if !t.found.atLimit[i] {
			q.Put(&k, t.found.theta[i])
		}
	}
	tie(&k, m.Overall)
	if _, ok := newCurve(k); !ok {
		k = t.model.knife(t.found.theta)
	}
	model := &outlineModel{readings: m.of(ofOutline), base: k, overall: m.Overall, pose: t.model.pose, rough: t.model.rough, shownTang: t.model.shownTang}
	var rounded []Fixed
	model.free, rounded = withoutCorner(outlineQuantities(k, m.Overall), k, m.Accuracy())
	start := startOf(model, k)
	copy(start[len(model.free):], t.model.posed(t.found.theta))
	found, ok := solve(model, [][]float64{start}, m.Accuracy())
	if !ok {
		return trial{family: t.family, err: errNoKnife}
	}
	found.fixed = append(found.fixed, rounded...)
	return trial{t.family, t.layout, model, found, nil}
}

// startLayouts returns how the readings may lie: as told, and for a trace mirrored.
func startLayouts(m Measurements) ([2]layout, error) {
	if !m.Traced {
		l := layout{size: sizeOf(m)}
		return [2]layout{l, l}, nil
	}
	var points []geom.Point
	for _, r := range m.of(ofOutline) {
		points = append(points, r.At)
	}
	lay, ok := layouts(points)
	if !ok {
		return lay, noShoulder(m)
	}
	return lay, nil
}

// thinned returns the measurements with at most a number of the points of a trace, evenly
// taken.
func thinned(m Measurements, most int) Measurements {
	if !m.Traced || len(m.Readings) <= most {
		return m
	}
	all := m.Readings
	m.Readings = make([]Reading, most)
	for i := range most {
		m.Readings[i] = all[i*len(all)/most]
	}
	return m
}

// rank puts the families that were fitted in order and says of all how they did.
func rank(trials []trial) (ranked []trial, candidates []Candidate) {
	scale := math.Inf(1)
	for _, t := range trials {
		if t.err == nil {
			ranked = append(ranked, t)
			scale = math.Min(scale, t.found.scale)
		}
	}
	scale = math.Max(scale, 0.01) // a hundredth of a millimetre is no difference
	sort.SliceStable(ranked, func(i, j int) bool { return criterion(ranked[i].found, scale) < criterion(ranked[j].found, scale) })
	for _, t := range ranked {
		candidates = append(candidates, Candidate{Family: t.family.Name, Deviation: t.found.scale, Parameters: len(t.found.theta) - t.model.pose,
			Behind: criterion(t.found, scale) - criterion(ranked[0].found, scale)})
	}
	for _, t := range trials {
		if t.err != nil {
			candidates = append(candidates, Candidate{Family: t.family.Name, Reason: t.err.Error()})
		}
	}
	return ranked, candidates
}

// nearest returns, of the families that follow the readings as well as the best, the one
// whose pattern in the size of the knife has the nearest proportions, and the names of
// the others.
func nearest(ranked []trial, candidates []Candidate) (trial, []string) {
	best, least := 0, math.Inf(1)
	count := 0
	for i, t := range ranked {
		if candidates[i].Behind > barely {
			break
		}
		count++
		if d := apart(t); d < least {
			best, least = i, d
		}
	}
	var others []string
	for i, t := range ranked[:count] {
		if i != best {
			others = append(others, t.family.Name)
		}
	}
	return ranked[best], others
}

// apart is the mean square of the logarithms of what was found over what the pattern in
// the rough size has, of the parameters of the blade.
func apart(t trial) float64 {
	k := t.model.knife(t.found.theta)
	sum, n := 0.0, 0.0
	for _, q := range t.model.base.Quantities() {
		if _, is := tied(q.Key, k, t.model.overall); is || q.Group == "tang" || q.Group == "shoulder" {
			continue
		}
		was, now := math.Abs(q.Of(t.model.base)), math.Abs(q.Of(k))
		if was > 0 && now > 0 && was != now {
			sum += math.Pow(math.Log(now/was), 2)
			n++
		}
	}
	return sum / math.Max(1, n)
}

// turnedOver returns the stations of the same knife held edge up.
func turnedOver(m Measurements) Measurements {
	m.Readings = slices.Clone(m.Readings)
	for i, r := range m.Readings {
		switch r.Kind {
		case Spine:
			r.Kind, r.Value = Edge, -r.Value
		case Edge:
			r.Kind, r.Value = Spine, -r.Value
		}
		m.Readings[i] = r
	}
	return m
}

// betterMirrored reports whether a family reproduces the readings when they are laid down
// the other way.
func betterMirrored(m Measurements, families []Family, other layout, within float64) bool {
	for _, f := range families {
		t := attempt(m, f, other)
		if t.err != nil {
			continue
		}
		if fit, err := complete(m, f, t.model, t.found); err == nil && judge(m, fit, within).Reproduced {
			return true
		}
	}
	return false
}
