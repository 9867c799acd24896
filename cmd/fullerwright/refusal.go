package main

import (
	"errors"
	"slices"
	"strings"

	"fullerwright/toolpath"
)

// refusal is a step that cannot be planned, and which single changes would let it be.
type refusal struct {
	error
	tried string
	step  toolpath.Step
	setup toolpath.Setup
	named string
}

// why says what is in the way, and what was tried.
func (r *refusal) why() string {
	if r.tried == "" {
		return r.Error()
	}
	return r.Error() + "; tried: " + r.tried
}

// stops reports whether it is bar or drawer that is in the way, and not a name that is not known.
func (r *refusal) stops() bool {
	var none *toolpath.NoCutterError
	var barred *toolpath.RefusedError
	return errors.As(r.error, &none) || errors.As(r.error, &barred)
}

// refusedError says that steps cannot be planned: a line for each reason.
type refusedError struct{ steps []*refusal }

func (e *refusedError) Error() string {
	var lines []string
	for _, r := range e.steps {
		if why := r.why(); !slices.Contains(lines, why) {
			lines = append(lines, why)
		}
	}
	return strings.Join(lines, "\n")
}

// stopsWork reports whether an error says that bar or drawer alone stand in the way of the work,
// as a check does.
func stopsWork(err error) bool {
	var refused *refusedError
	return errors.As(err, &refused) && !slices.ContainsFunc(refused.steps, func(r *refusal) bool { return !r.stops() })
}
