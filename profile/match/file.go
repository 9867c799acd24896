package match

import (
	"fmt"
	"math"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

// File returns the knife file of a fit: the family's own, with its comments, resized to
// the length and width found, so that what no reading sees stays in proportion, and with
// every parameter found in its place, rounded to no more digits than its standard error
// leaves it. A false edge keeps its part of the clip. The head says where the figures
// come from. Faults are document.FieldErrors: the family's other dimensions do not go with
// what was found.
func (f Fit) File(family Family, m Measurements) ([]byte, error) {
	base, resized, err := inSize(family, f.Knife.Blade.Length, f.Knife.Blade.Width)
	if err != nil {
		return nil, err
	}
	edits := base.EditsTo(f.written(base, m.Overall))
	for i := range edits {
		edits[i].Fresh = true
	}
	head := fmt.Sprintf("# Matched to %s. What was not measured stands in proportion to the length and width found.\n", oneLine(m.File))
	data := append([]byte(head), document.Apply(resized, base.Units, edits)...)
	if _, err := profile.Parse("the matched knife", data); err != nil {
		return nil, err
	}
	return data, nil
}

// oneLine takes out of a name what would end a comment.
func oneLine(name string) string {
	out := []rune(name)
	for i, r := range out {
		if r < ' ' || r == 0x7f {
			out[i] = '?'
		}
	}
	return string(out)
}

// written returns the knife that the file holds.
func (f Fit) written(base profile.Knife, overall float64) profile.Knife {
	k := within(base.Copied(), 0)
	if !base.Shoulder.Top.Known && !f.found("shoulder.top") {
		k.Shoulder.Top = profile.Optional{}
	}
	for _, q := range within(base.Copied(), 0).Quantities() {
		if e, there := f.estimate(q.Key); there {
			q.Put(&k, rounded(e, base.Units))
		}
	}
	tie(&k, overall)
	if base.Clip.Length > 0 {
		k.FalseEdge.Length *= k.Clip.Length / base.Clip.Length
	}
	return k
}

func (f Fit) found(key string) bool {
	_, there := f.estimate(key)
	return there
}

func (f Fit) estimate(key string) (Estimate, bool) {
	for _, e := range f.Parameters {
		if e.Key == key {
			return e, true
		}
	}
	return Estimate{}, false
}

// rounded returns a value to the greatest power of ten, in the unit of the file, that is
// no more than half its standard error, and no finer than a thousandth of a millimetre, a
// ten thousandth of an inch, a hundredth of a degree or a thousandth.
func rounded(e Estimate, unit document.Unit) float64 {
	one, finest := 1.0, 1e-3
	switch {
	case e.Kind == document.Length && unit == document.Inch:
		one, finest = unit.Millimetres(), 1e-4
	case e.Kind == document.Angle:
		one, finest = float64(geom.Degree), 1e-2
	}
	step := math.Pow(10, math.Floor(math.Log10(math.Max(e.Error/one/2, finest)*(1+1e-9))))
	parts := math.Round(e.Value / one / step)
	if step < 1 {
		return parts / math.Round(1/step) * one // a decimal as it is typed
	}
	return parts * step * one
}
