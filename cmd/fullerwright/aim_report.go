package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"text/tabwriter"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/search"
)

// sayVaried prints the table of what was changed.
func (p *program) sayVaried(a aiming, at []float64) {
	unit := a.in.knife.Units
	table := tabwriter.NewWriter(p.stderr, 0, 0, 2, ' ', 0)
	fmt.Fprintf(table, "parameter\twas\tis\twhy\n")
	for _, c := range a.Changes(at) {
		fmt.Fprintf(table, "%s\t%s\t%s\t%s\n", c.Key, sayValue(c.Kind, c.Was, unit), sayValue(c.Kind, c.Is, unit), document.Words(c.Why).In(unit))
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

// sayReached says what the goals come to, and how far it may be trusted that the change is
// the least.
func (p *program) sayReached(a aiming, answer search.Answer, reached []float64) {
	for i, g := range a.goals {
		p.tell("%s: %s, was %s, aimed at %s within %s\n", g.title, g.say(reached[i], p.unit), g.say(g.of(a.asIs), p.unit), g.say(g.target, p.unit), g.sayTolerance(p.unit))
	}
	switch {
	case len(a.Variables) == 1:
	case answer.Agree == 0:
		fmt.Fprintln(p.stderr, "no design that passes its checks was found to meet the targets themselves; this one meets them within their tolerances")
	case answer.Barred:
		p.tell("the least change does not pass its checks; this is the least beside it that was found to: %s.\nA smaller one elsewhere cannot be ruled out.\n", sayStationary(answer))
	default:
		p.tell("the least change near this place: %s.\nOf %d starts %d led to it, and a smaller one elsewhere cannot be ruled out.\n", sayStationary(answer), answer.Starts, answer.Agree)
	}
	fmt.Fprintln(p.stderr)
}

// sayStationary says whether the first-order conditions of a least change were found to
// hold.
func sayStationary(answer search.Answer) string {
	if answer.Stationary {
		return "no small change beside it was found to do with less (first-order conditions, by differences)"
	}
	return "that none beside it does with less could not be shown (first-order conditions, by differences)"
}

// wanted lists what is aimed at, with its targets.
func (a aiming) wanted() string {
	var texts []string
	for _, g := range a.goals {
		texts = append(texts, g.title+": "+g.say(g.target, a.in.knife.Units))
	}
	return strings.Join(texts, ", with ")
}

// sayUnreached says why there is no answer, what comes nearest and what would help.
func (p *program) sayUnreached(a aiming, answer search.Answer) error {
	if answer.Still >= 0 {
		g := a.goals[answer.Still]
		hint := "fullerwright range shows what a number does"
		if movers := a.movers(g.quantity); len(movers) > 0 {
			hint = "these move it: " + strings.Join(movers, ", ")
		}
		return &usageError{fmt.Sprintf("%s cannot move the %s: it stays at %s", a.keys(), g.title, g.say(g.of(a.asIs), p.unit)), hint}
	}
	p.say("%s cannot be reached by %s\n", a.wanted(), a.keys())
	switch {
	case !answer.Found:
		o := a.obstacle(startOf(a.Variables))
		p.say("no design that was looked at passes the checks; now there stands in the way: %s\n", firstOf(o.Remedy, o.Name))
	default:
		p.sayNearest(a, answer)
	}
	for _, g := range a.goals {
		if movers := a.movers(g.quantity); len(movers) > 0 {
			it := "it"
			if len(a.goals) > 1 {
				it = "the " + g.title
			}
			p.say("what else moves %s, most first: %s\n", it, strings.Join(movers, ", "))
		}
	}
	return &failedError{a.wanted() + " cannot be reached; no file was written"}
}

// sayNearest says the nearest design and what stands in the way beyond it.
func (p *program) sayNearest(a aiming, answer search.Answer) {
	unit := a.in.knife.Units
	var values []string
	for i, g := range a.goals {
		values = append(values, g.say(answer.Values[i], unit))
	}
	p.say("nearest: %s, with", strings.Join(values, " and "))
	for i, v := range a.Variables {
		near := ""
		if v.AboveMin && answer.At[i]-v.Least < 1e-6 { // which it cannot be itself
			near = "next to "
		}
		p.say(" %s %s%s", v.Key, near, sayValue(v.Kind, answer.At[i], unit))
	}
	fmt.Fprintln(p.stdout)
	if len(a.goals) > 1 {
		fmt.Fprintln(p.stdout, "misses are weighed by their tolerances; --tolerance says which matters more")
	}
	if o := answer.Beyond; o.Name != "" {
		p.say("beyond it stands in the way: %s\n", firstOf(o.Remedy, o.Name))
	}
	if answer.AtLimit != "" {
		i := slices.IndexFunc(a.Variables, func(v profile.Variable) bool { return v.Key == answer.AtLimit })
		p.say("beyond it %s would pass the limit of its key, %s\n", answer.AtLimit, sayValue(a.Variables[i].Kind, answer.At[i], unit))
	}
	if answer.Beyond.Name+answer.AtLimit == "" {
		p.say("beyond it the %s turns back\n", a.goals[0].title)
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

// movers returns the keys, other than those varied, that move a quantity most when they
// change by a fiftieth of themselves.
func (a aiming) movers(q quantity) []string {
	const most = 4
	type mover struct {
		key  string
		move float64
	}
	var all []mover
	now := q.of(a.asIs)
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
			if value := other.value(q, []float64{v.Value * share}); !math.IsNaN(value) {
				move = max(move, math.Abs(value-now))
			}
		}
		if move > q.tolerance/2 {
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
