package main

import (
	"math"
	"slices"

	"fullerwright/export"
	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/search"
)

// tradeOffDesigns is how many designs a trade-off is drawn through.
const tradeOffDesigns = 121

// drawTradeOff draws what the change toward an answer costs in other measures, where a
// drawing is asked for and there is a change.
func (p *program) drawTradeOff(path string, a aiming, answer search.Answer) error {
	if path == "" || answer.Still >= 0 {
		return nil
	}
	places, along, toward := a.alongTheWay(answer)
	measures := a.measures()
	rows, err := a.table(p.ctx, tabling{places: places, measures: measures, programs: true})
	if err != nil {
		return err
	}
	t := export.TradeOff{Knife: a.in.knife.Name, Along: along, Answer: toward * answer.Change, Found: answer.Found, Reached: answer.Reached}
	for i, v := range a.Variables {
		values := make([]float64, len(places))
		for j, place := range places {
			values[j] = place[i]
		}
		t.Axes = append(t.Axes, chartAxis(v, values, a.in.knife.Units))
	}
	for i, q := range measures {
		if m := chartMeasure(q, i, rows, a.in.knife.Units); i < len(a.goals) || !allNone(m.Values) {
			t.Measures = append(t.Measures, m)
		}
	}
	for i, g := range a.goals {
		target, _ := a.in.knife.Units.Say(g.target, g.unit)
		t.Measures[i].Target = profile.Some(target)
	}
	for _, r := range rows {
		t.Verdicts = append(t.Verdicts, r.chartVerdict())
	}
	return p.writeDrawing(path, t.Sheet())
}

// measures returns what is aimed at, and then what a change toward it is weighed by.
func (a aiming) measures() []quantity {
	var out []quantity
	for _, g := range a.goals {
		out = append(out, g.quantity)
	}
	for _, q := range quantities() {
		aimed := slices.ContainsFunc(a.goals, func(g goal) bool { return g.name == q.name })
		switch q.name {
		case "weight", "balance", "stiffness", "web":
			if !aimed {
				out = append(out, q)
			}
		}
	}
	return out
}

// alongTheWay returns designs from short of the knife as it is to beyond the answer, as
// far as the limits allow, and how far each lies along; toward is -1 where they go from beyond
// the answer to short of the knife, so that the first parameter rises as people read.
func (a aiming) alongTheWay(answer search.Answer) (places [][]float64, along []float64, toward float64) {
	direction := make([]float64, len(a.Variables))
	direction[0] = 1 // nothing was found: both ways along the first
	if answer.Change > 0 {
		for i, v := range a.Variables {
			direction[i] = (answer.At[i] - v.Value) / scaleOf(v) / answer.Change
		}
	}
	reach := 2 * answer.Change
	if !answer.Reached {
		reach = max(reach, answer.Change+0.5)
	}
	least, most := -max(0.25*reach, 0.05), max(reach, 0.1)
	for i, v := range a.Variables {
		if step := direction[i] * scaleOf(v); step != 0 {
			p, q := (v.Least-v.Value)/step, (v.Most-v.Value)/step
			least, most = max(least, min(p, q)), min(most, max(p, q))
		}
	}
	for i := range tradeOffDesigns {
		t := least + (most-least)*float64(i)/(tradeOffDesigns-1)
		place := make([]float64, len(a.Variables))
		for j, v := range a.Variables {
			place[j] = min(max(v.Value+t*direction[j]*scaleOf(v), v.Least), v.Most)
		}
		places, along = append(places, place), append(along, t)
	}
	if direction[0] >= 0 {
		return places, along, 1
	}
	slices.Reverse(places)
	slices.Reverse(along)
	for i := range along {
		along[i] = -along[i]
	}
	return places, along, -1
}

// chartAxis gives the values of a variable in the unit that is printed.
func chartAxis(v profile.Variable, values []float64, unit document.Unit) export.ChartAxis {
	axis := export.ChartAxis{Name: v.Key}
	per := 1.0
	switch v.Kind {
	case document.Length:
		axis.Unit, per = unit.String(), unit.Millimetres()
	case document.Angle:
		axis.Unit, per = "degrees", math.Pi/180
	}
	for _, value := range values {
		axis.Values = append(axis.Values, value/per)
	}
	return axis
}
