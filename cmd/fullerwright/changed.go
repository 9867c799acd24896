package main

import (
	"fmt"
	"math"
	"slices"
	"text/tabwriter"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/toolpath"
)

// sayWorse says which checks got worse, with the ways out that were tried on the new
// knife.
func (p *program) sayWorse(c comparison, now job) {
	worsened := c.worsened(now)
	if len(worsened) > 0 {
		fmt.Fprintln(p.stderr, "got worse:")
	}
	for _, w := range worsened {
		p.tell("  %s\n", w.check)
		for _, says := range w.Tried {
			p.tell("          tried: %s\n", says)
		}
		if w.check.Verdict == toolpath.Stop && len(w.Tried) == 0 && w.check.Tried() {
			p.tell("          tried: no single change was found that would do\n")
		}
	}
}

// sayOtherwise says which other checks are not well, and what the new knife comes to.
func (p *program) sayOtherwise(c comparison) error {
	_, rest := c.judged()
	if len(rest) > 0 {
		fmt.Fprintln(p.stderr, "as they were, not ok:")
	}
	for _, check := range rest {
		p.tell("  %s\n", check)
	}
	p.tell("the new knife: %s\n", c.Verdicts[1])
	return c.stopped()
}

// stopped is the error of a new knife on which checks stop the work.
func (c comparison) stopped() error {
	if stops := toolpath.Stops(c.checks[1]); len(stops) > 0 {
		return &failedError{plural(len(stops), "check stops", "checks stop") + " the work on the new knife"}
	}
	return nil
}

// judged returns the checks of the second knife that are worse than on the first, stops
// before cautions, and the others that are not well. What both faces have alike is told once.
func (c comparison) judged() (worsened, rest []toolpath.Check) {
	was := map[string][]toolpath.Check{}
	for _, check := range c.checks[0] {
		was[check.Name] = append(was[check.Name], check)
	}
	told := map[string]bool{}
	for _, check := range c.checks[1] {
		if told[check.String()] {
			continue
		}
		told[check.String()] = true
		before := toolpath.Worst(was[check.Name])
		switch {
		case toolpath.Worst([]toolpath.Check{{Verdict: before}, check}) != before:
			worsened = append(worsened, check)
		case check.Verdict != toolpath.OK:
			rest = append(rest, check)
		}
	}
	slices.SortStableFunc(worsened, func(a, b toolpath.Check) int { return stopsFirst(b) - stopsFirst(a) })
	return worsened, rest
}

func stopsFirst(c toolpath.Check) int {
	if c.Verdict == toolpath.Stop {
		return 1
	}
	return 0
}

// sayMeasures says what both knives come to, what got worse first.
func (p *program) sayMeasures(c comparison) {
	table := tabwriter.NewWriter(p.stderr, 0, 0, 2, ' ', 0)
	fmt.Fprintf(table, "measure\twas\tis\t\n")
	for _, worse := range []bool{true, false} {
		for _, m := range c.Measures {
			if m.worse() != worse || m.A == nil && m.B == nil {
				continue
			}
			says := ""
			if worse {
				says = "worse"
			}
			fmt.Fprintf(table, "%s, %s\t%s\t%s\t%s\n", m.Name, document.UnitName(m.Unit).In(p.unit), m.value(m.A, p.unit), m.value(m.B, p.unit), says)
		}
	}
	fmt.Fprintln(table)
	table.Flush()
}

// tried puts the value of a way out in the knife, runs the checks and says what comes of
// it; it is empty where the way leads nowhere.
func (j job) tried(check toolpath.Check, way toolpath.Way) string {
	mended, err := j.with(way)
	if err != nil {
		return ""
	}
	w, err := planned(mended)
	if err != nil {
		return ""
	}
	is := slices.DeleteFunc(w.allChecks(), func(c toolpath.Check) bool { return c.Name != check.Name })
	if toolpath.Worst(is) != toolpath.OK {
		return ""
	}
	says := sayWay(way, j.knife.Units)
	if stops := toolpath.Stops(w.allChecks()); len(stops) > 0 {
		return fmt.Sprintf("%s does, and then %s stops", says, stops[0].Name)
	}
	return says + " does, and no check stops the work"
}

// with returns the job with the value of a way out in its knife.
func (j job) with(way toolpath.Way) (job, error) {
	var err error
	for _, one := range append([]toolpath.Way{way}, way.Also...) {
		switch {
		case err != nil:
		case one.Cutter != nil:
			j.shop.Cutters = append(slices.Clone(j.shop.Cutters), *one.Cutter)
		case one.File == toolpath.ShopFile:
			j.shop, err = j.shop.Put(one.Key, one.Value)
		case one.Word != "":
			j.knife, err = j.knife.PutWord(one.Key, one.Word)
		default:
			j.knife, err = j.knife.Put(one.Key, one.Value)
		}
	}
	return j, err
}

// leastWeb returns the least web of all fullers, +Inf where there is none.
func leastWeb(b profile.Blade) float64 {
	least := math.Inf(1)
	for i := range b.Fullers {
		for _, s := range b.Sections(i, 41) {
			least = math.Min(least, s.Web)
		}
		leaving, _ := b.WebLeaving(i)
		least = math.Min(least, leaving)
	}
	return least
}

// planned prepares a knife and plans all its programs.
func planned(in job) (*work, error) {
	w, err := prepare(in)
	if err != nil {
		return nil, err
	}
	return w, w.plan("", func(toolpath.Step) bool { return true })
}

// checksOf runs every check that check runs.
func checksOf(in job) ([]toolpath.Check, error) {
	w, err := planned(in)
	if err != nil {
		return nil, err
	}
	return w.allChecks(), nil
}
