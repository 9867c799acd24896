package match

import (
	"errors"
	"math"
	"slices"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// Family is a pattern that a knife may belong to: its name and its knife file.
type Family struct {
	Name string
	Data []byte
}

// errNoKnife is why a family does not come into question.
var errNoKnife = errors.New("the family has no knife of that size")

// Residual is one reading with how far it lies from the knife found, mm: reading less
// knife, for a traced point square to the outline, positive outside.
type Residual struct {
	Reading  Reading
	Distance float64
	Expected float64 // what the knife found gives there; 0 for a traced point
	// Place is where the reading lies in the blade frame, for heights on the back or the
	// edge, for thicknesses at the height 0.
	Place geom.Point
	// Foot is the place of the outline that it is held against, in the blade frame.
	Foot geom.Point
	// Aside is true of a reading without weight: it does not belong with the others.
	Aside bool
}

// Fit is a family fitted to the readings. The zero value is none.
type Fit struct {
	Family     string
	Knife      profile.Knife // the family's, with what was found
	Parameters []Estimate
	Fixed      []Fixed
	Residuals  []Residual
	// Deviation is the robust standard deviation of the readings of the outline from the
	// knife, ThicknessDeviation that of the thicknesses, mm; 0 where there are none.
	Deviation, ThicknessDeviation float64
	Mirrored                      bool    // a trace that shows the other face
	Scale                         float64 // of a trace without a unit, over the first guess
}

// fitOutline fits the outline of a family; err says why the family has no such knife.
func fitOutline(m Measurements, f Family, l layout) (*outlineModel, solution, error) {
	k, err := sized(f, l.size, m.Overall)
	if err != nil {
		return nil, solution{}, err
	}
	o := &outlineModel{readings: m.of(ofOutline), base: k, overall: m.Overall, pose: poseOf(m), rough: l.motion, shownTang: l.size.tangLength}
	var rounded []Fixed
	o.free, rounded = withoutCorner(outlineQuantities(k, m.Overall), k, m.Accuracy())
	var starts [][]float64
	for _, start := range startsOf(k, m.Overall) {
		starts = append(starts, startOf(o, start))
	}
	if len(starts) == 0 {
		return nil, solution{}, errNoKnife
	}
	found, ok := solve(o, starts, m.Accuracy())
	if !ok || len(found.theta) == 0 {
		return nil, solution{}, errNoKnife
	}
	found.fixed = append(found.fixed, rounded...)
	return o, found, nil
}

// fitThickness fits the distal taper of a knife whose outline is found. The stations of
// the taper stay where the pattern has them, in proportion, unless letting them move makes
// so much of a better fit that it is beyond doubt.
func fitThickness(m Measurements, k profile.Knife) (*thicknessModel, solution, bool) {
	readings := m.of(ofThickness)
	if len(readings) == 0 {
		return nil, solution{}, false
	}
	tang := false
	ratios := make([]float64, len(readings))
	for i, r := range readings {
		tang = tang || r.X < 0
		ratios[i] = r.Value / thicknessAt(k, r.X)
	}
	base := k.Copied()
	for _, q := range thicknessQuantities(base, false, true) {
		least, most := q.Limits()
		q.Put(&base, math.Max(least, math.Min(most, q.Of(base)*medianOf(ratios))))
	}
	attempt := func(stations bool) (*thicknessModel, solution, bool) {
		t := &thicknessModel{readings: readings, base: base, free: thicknessQuantities(base, stations, tang)}
		found, ok := solve(t, [][]float64{startOf(t, base)}, m.Accuracy())
		return t, found, ok
	}
	t, found, ok := attempt(false)
	if ok && len(found.theta) == 0 {
		for i := range found.fixed {
			found.fixed[i].Why = "too few thicknesses were measured to find it; that of the pattern, by as much thicker or thinner as they are"
		}
		return t, found, true
	}
	moving, movingFound, movingOK := attempt(true)
	if ok && movingOK && len(movingFound.fixed) == len(found.fixed) && len(movingFound.theta) > len(found.theta) {
		scale := math.Max(math.Min(found.scale, movingFound.scale), m.Accuracy()/5)
		// A corner may lie anywhere, and somewhere chance makes one: its place counts twice
		// (Zhang and Siegmund, Biometrics 63, 2007, 22-32; from memory).
		places := float64(len(movingFound.theta)-len(found.theta)) * math.Log(float64(len(readings)))
		if criterion(movingFound, scale)+places < criterion(found, scale)-decisive {
			return moving, movingFound, true
		}
	}
	return t, found, ok
}

// criterion weighs how well a fit follows the readings against how many parameters it
// takes: Schwarz's criterion with twice the sum of the biweight in place of the log
// likelihood (Machado, Econometric Theory 9, 1993, 478-493), with one scale for all fits
// that are compared.
func criterion(s solution, scale float64) float64 {
	l := tukey()
	return 2*costOf(s.residuals, l, scale) + float64(len(s.theta))*math.Log(float64(len(s.residuals)))
}

// Differences of the criterion: under barely nothing is told, over decisive there is no
// doubt (Kass and Raftery, J. Amer. Statist. Assoc. 90, 1995, 773-795, whose grades
// these are).
const (
	barely   = 2
	decisive = 10
)

// complete makes a fit of a fitted outline and the thicknesses.
func complete(m Measurements, f Family, o *outlineModel, found solution) (Fit, error) {
	pattern, err := profile.Parse(f.Name+".toml", f.Data)
	if err != nil {
		return Fit{}, err
	}
	fit := Fit{Family: f.Name, Knife: o.knife(found.theta), Deviation: found.scale, Mirrored: o.rough.mirror, Scale: 1}
	if o.pose == 4 {
		fit.Scale = math.Exp(o.posed(found.theta)[3])
	}
	fit.Parameters = estimates(o, found, pattern)
	fit.Fixed = append(tiedOf(fit.Knife, m.Overall), found.fixed...)
	fit.Residuals = outlineResiduals(o, found)
	t, thickness, ok := fitThickness(m, fit.Knife)
	if !ok {
		fit.Fixed = append(fit.Fixed, Fixed{Key: "blade.thickness", Kind: document.Length, Value: fit.Knife.Blade.Thickness, Why: "no thickness was measured; as the pattern has it"})
		return fit, nil
	}
	fit.Knife = t.knife(thickness.theta)
	fit.ThicknessDeviation = thickness.scale
	fit.Parameters = append(fit.Parameters, estimates(t, thickness, pattern)...)
	fit.Fixed = append(fit.Fixed, thickness.fixed...)
	for i, r := range t.readings {
		fit.Residuals = append(fit.Residuals, Residual{Reading: r, Distance: thickness.residuals[i],
			Expected: r.Value - thickness.residuals[i], Place: geom.Point{X: r.X}, Aside: aside(thickness, i)})
	}
	return fit, nil
}

// estimates returns the parameters found.
func estimates(s searchable, found solution, pattern profile.Knife) []Estimate {
	was := map[string]float64{}
	for _, q := range within(pattern.Copied(), 0).Quantities() {
		was[q.Key] = q.Of(within(pattern.Copied(), 0))
	}
	var out []Estimate
	for i, q := range s.quantities() {
		out = append(out, Estimate{Key: q.Key, Kind: q.Kind, Pattern: was[q.Key], Value: found.theta[i], Error: found.errors[i], AtLimit: found.atLimit[i]})
	}
	return out
}

// tiedOf returns the parameters that follow from others.
func tiedOf(k profile.Knife, overall float64) []Fixed {
	var out []Fixed
	for _, q := range k.Quantities() {
		if why, is := tied(q.Key, k, overall); is {
			out = append(out, Fixed{Key: q.Key, Kind: q.Kind, Value: q.Of(k), Why: why})
		}
	}
	return out
}

// suspicious is how many standard deviations a reading lies from the knife at least to be
// called wrong: one of four thousand good readings does (normal errors).
const suspicious = 3.5

// shown is the least difference that a caliper shows, mm: one step of its display either
// way (common practice: a display of 0.01 mm). Less is never called wrong, however well the
// others follow.
const shown = 0.02

func aside(s solution, i int) bool {
	return math.Abs(s.residuals[i]) > math.Max(shown, suspicious*s.scale)
}

// outlineResiduals returns the readings of the outline with their distances.
func outlineResiduals(o *outlineModel, found solution) []Residual {
	c, _ := newCurve(o.knife(found.theta))
	pose := o.posed(found.theta)
	out := make([]Residual, len(o.readings))
	for i, r := range o.readings {
		out[i] = Residual{Reading: r, Distance: found.residuals[i], Aside: aside(found, i)}
		switch r.Kind {
		case Traced:
			out[i].Place = o.placed(r, pose)
			foot, _ := c.chain.Nearest(out[i].Place)
			out[i].Foot = c.at(foot)
		case Spine, Edge:
			y := c.at(c.side(r.X, r.Kind == Spine)).Y
			out[i].Place, out[i].Foot = geom.Point{X: r.X, Y: y + found.residuals[i]}, geom.Point{X: r.X, Y: y}
			out[i].Expected = r.Value - found.residuals[i]
		case Width:
			y := c.at(c.side(r.X, false)).Y
			out[i].Place, out[i].Foot = geom.Point{X: r.X, Y: y - found.residuals[i]}, geom.Point{X: r.X, Y: y}
			out[i].Expected = r.Value - found.residuals[i]
		}
	}
	return out
}

func medianOf(values []float64) float64 {
	s := append([]float64(nil), values...)
	slices.Sort(s)
	return (s[(len(s)-1)/2] + s[len(s)/2]) / 2
}
