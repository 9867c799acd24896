package toolpath

import (
	"fmt"
	"math"
	"strings"

	"fullerwright/profile/document"
)

// Verdict is what a check comes to.
type Verdict string

// The verdicts, from good to bad.
const (
	OK      Verdict = "ok"
	Caution Verdict = "caution"
	Stop    Verdict = "stop"
)

// worse returns the worse of two verdicts.
func worse(a, b Verdict) Verdict {
	rank := map[Verdict]int{OK: 0, Caution: 1, Stop: 2}
	if rank[b] > rank[a] {
		return b
	}
	return a
}

// Check is one thing looked at: a value against a limit, where the limit comes from,
// what that comes to, and what would help.
type Check struct {
	Name    string  // what is checked, in the maker's words
	Value   float64 // in Unit
	Limit   float64
	Unit    string            // of millimetres, whatever the reader's is
	Least   bool              // the limit is a least one; else a greatest one
	Source  document.Sentence // of the limit
	Verdict Verdict
	Place   document.Sentence // where on the blade, if anywhere
	Remedy  document.Sentence // in words what would help; empty when all is well

	guesses []Way       // ways out that were worked out
	looked  []direction // keys in which more may be found
	levers  []lever     // other ways out
	trial   *trial      // what they are tried on
}

// String says the check in one line, in millimetres.
func (c Check) String() string { return c.In(document.Millimetre) }

// In says the check in one line, in the reader's unit.
func (c Check) In(unit document.Unit) string {
	bound := "at most"
	if c.Least {
		bound = "at least"
	}
	value, limit, name := c.Figures(unit)
	line := fmt.Sprintf("%-7s %s: %s, %s %s", c.Verdict, c.Name, strings.TrimSpace(value+" "+name), bound, limit)
	if !c.Place.Empty() {
		line += " (" + c.Place.In(unit) + ")"
	}
	if !c.Remedy.Empty() {
		line += ": " + c.Remedy.In(unit)
	}
	return line
}

// Figures writes value and limit in the reader's unit, and names that.
func (c Check) Figures(unit document.Unit) (value, limit, name string) {
	v, name := unit.Say(c.Value, c.Unit)
	l, _ := unit.Say(c.Limit, c.Unit)
	return figure(v, name), figure(l, name), name
}

// figure writes a value with as many decimals as its size deserves.
func figure(v float64, unit string) string {
	switch a := math.Abs(v); {
	case math.IsInf(v, 0) || math.IsNaN(v):
		return "none"
	case unit == "in" && a >= 1:
		return fmt.Sprintf("%.3f", v)
	case unit == "in" && a < 0.01 && a > 5e-6:
		return fmt.Sprintf("%.5f", v)
	case a >= 100:
		return fmt.Sprintf("%.0f", v)
	case a >= 10:
		return fmt.Sprintf("%.1f", v)
	case a >= 1:
		return fmt.Sprintf("%.2f", v)
	default:
		return fmt.Sprintf("%.4f", v)
	}
}

// slack is how far a value may be beyond a limit that it meets exactly but for
// rounding: in its unit, and as a part of the limit.
const slack = 1e-9

// most checks a value that must not be above a limit.
func most(name string, value, limit float64, unit string) Check {
	c := Check{Name: name, Value: value, Limit: limit, Unit: unit, Verdict: OK}
	if !(value <= limit+slack*(1+math.Abs(limit))) {
		c.Verdict = Stop
	}
	return c
}

// least checks a value that must not be below a limit.
func least(name string, value, limit float64, unit string) Check {
	c := Check{Name: name, Value: value, Limit: limit, Unit: unit, Least: true, Verdict: OK}
	if !(value >= limit-slack*(1+math.Abs(limit))) {
		c.Verdict = Stop
	}
	return c
}

// from names the source of a check's limit, in words.
func (c Check) from(source string) Check { c.Source = document.Words(source); return c }

// at names the place of a check.
func (c Check) at(format string, values ...any) Check {
	c.Place = document.Say(format, values...)
	return c
}

// orElse names the remedy, kept only where the check is not well.
func (c Check) orElse(format string, values ...any) Check {
	if c.Verdict != OK {
		c.Remedy = document.Say(format, values...)
	}
	return c
}

// mild makes a stop a caution.
func (c Check) mild() Check {
	if c.Verdict == Stop {
		c.Verdict = Caution
	}
	return c
}

// over and under round a length to a hundredth of a millimetre, away from the side of a
// limit that it must not be on, so that what a remedy says does.
func over(v float64) float64  { return math.Ceil(v*100-1e-7) / 100 }
func under(v float64) float64 { return math.Floor(v*100+1e-7) / 100 }

// Worst returns the worst verdict of a list of checks.
func Worst(checks []Check) Verdict {
	verdict := OK
	for _, c := range checks {
		verdict = worse(verdict, c.Verdict)
	}
	return verdict
}

// Stops returns the checks that stop the work.
func Stops(checks []Check) []Check {
	var out []Check
	for _, c := range checks {
		if c.Verdict == Stop {
			out = append(out, c)
		}
	}
	return out
}

// StopError says that a job may not be written because of its checks.
type StopError struct{ Checks []Check }

// Error lists the checks that stop the job, a line each.
func (e *StopError) Error() string {
	lines := make([]string, len(e.Checks))
	for i, c := range e.Checks {
		lines[i] = c.String()
	}
	return strings.Join(lines, "\n")
}
