package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"text/tabwriter"

	"fullerwright/profile"
	"fullerwright/profile/search"
)

// sayVaried prints the table of what was changed.
func (p *program) sayVaried(a aiming, at []float64) {
	unit := a.in.knife.Units
	table := tabwriter.NewWriter(p.stderr, 0, 0, 2, ' ', 0)
	fmt.Fprintf(table, "parameter\twas\tis\twhy\n")
	for _, c := range a.Changes(at) {
		v := profile.Variable{Kind: c.Kind}
		fmt.Fprintf(table, "%s\t%s\t%s\t%s\n", c.Key, sayValue(v, c.Was, unit), sayValue(v, c.Is, unit), c.Why)
	}
	fmt.Fprintln(table)
	table.Flush()
}

// keys lists the keys that are varied.
func (a aiming) keys() string {
	var keys []string
	for _, v := range a.Variables {
		keys = append(keys, v.Key)
	}
	return strings.Join(keys, " and ")
}

// sayUnreached says why there is no answer, what comes nearest and what would help.
func (p *program) sayUnreached(a aiming, answer search.Answer) error {
	unit := a.in.knife.Units
	if !answer.Moves {
		hint := "fullerwright range shows what a number does"
		if movers := a.movers(); len(movers) > 0 {
			hint = "these move it: " + strings.Join(movers, ", ")
		}
		return &usageError{fmt.Sprintf("%s cannot move the %s: it stays at %s", a.keys(), a.title, a.say(a.of(a.asIs))), hint}
	}
	fmt.Fprintf(p.stdout, "%s: %s cannot be reached by %s\n", a.title, a.say(a.target), a.keys())
	switch {
	case !answer.Found:
		o, remedy := a.obstacle(startOf(a.Variables))
		fmt.Fprintf(p.stdout, "no design that was looked at passes the checks; now there stands in the way: %s\n", firstOf(remedy, o.Name))
	default:
		fmt.Fprintf(p.stdout, "nearest: %s, with", a.say(answer.Value))
		for i, v := range a.Variables {
			fmt.Fprintf(p.stdout, " %s %s", v.Key, sayValue(v, answer.At[i], unit))
		}
		fmt.Fprintln(p.stdout)
		p.sayBeyond(a, answer)
	}
	if movers := a.movers(); len(movers) > 0 {
		fmt.Fprintf(p.stdout, "what else moves it, most first: %s\n", strings.Join(movers, ", "))
	}
	return &failedError{fmt.Sprintf("%s: %s cannot be reached; no file was written", a.title, a.say(a.target))}
}

// sayBeyond says what stands in the way beyond the nearest design.
func (p *program) sayBeyond(a aiming, answer search.Answer) {
	switch {
	case answer.Beyond.Name != "":
		beyond := make([]float64, len(answer.At))
		for i, v := range a.Variables {
			beyond[i] = answer.At[i] + answer.Direction[i]*scaleOf(v)*1e-6*math.Copysign(1, answer.Change)
		}
		_, remedy := a.obstacle(beyond)
		fmt.Fprintf(p.stdout, "beyond it stands in the way: %s\n", firstOf(remedy, answer.Beyond.Name))
	case answer.AtLimit != "":
		i := slices.IndexFunc(a.Variables, func(v profile.Variable) bool { return v.Key == answer.AtLimit })
		fmt.Fprintf(p.stdout, "beyond it %s would pass the limit of its key, %s\n", answer.AtLimit, sayValue(a.Variables[i], answer.At[i], a.in.knife.Units))
	default:
		fmt.Fprintf(p.stdout, "beyond it the %s turns back\n", a.title)
	}
}

func startOf(variables []profile.Variable) []float64 {
	out := make([]float64, len(variables))
	for i, v := range variables {
		out[i] = v.Value
	}
	return out
}

func firstOf(texts ...string) string {
	for _, t := range texts {
		if t != "" {
			return t
		}
	}
	return ""
}

// movers returns the keys, other than those varied, that move the quantity most when they
// change by a fiftieth of themselves.
func (a aiming) movers() []string {
	const most = 4
	type mover struct {
		key  string
		move float64
	}
	var all []mover
	now := a.of(a.asIs)
	for _, v := range a.in.knife.Variables() {
		if v.Value == 0 || slices.ContainsFunc(a.Variables, func(w profile.Variable) bool { return w.Key == v.Key }) {
			continue
		}
		other, err := newDesigner(a.in, []string{v.Key})
		if err != nil {
			continue
		}
		other.asIs = a.asIs
		move := 0.0
		for _, share := range []float64{0.98, 1.02} {
			if value := other.value(a.quantity, []float64{v.Value * share}); !math.IsNaN(value) {
				move = max(move, math.Abs(value-now))
			}
		}
		if move > a.tolerance/2 {
			all = append(all, mover{v.Key, move})
		}
	}
	slices.SortStableFunc(all, func(x, y mover) int { return cmp.Compare(y.move, x.move) })
	var keys []string
	for _, m := range all[:min(most, len(all))] {
		keys = append(keys, m.key)
	}
	return keys
}
