package profile

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"fullerwright/profile/document"
)

// Thread is a screw thread of 60 degrees, ISO metric or Unified. Lengths in mm.
type Thread struct {
	Name         string
	Major, Pitch float64
	Metric       bool
	TapDrill     float64 // the usual drill
	DrillName    string  // as shops call it
}

// specialThread is a thread by its dimensions: major diameter, pitch and drill with the unit.
var specialThread = regexp.MustCompile(`^([0-9.]+) ?x ?([0-9.]+) ?(mm|in), ?drill ([0-9.]+) ?(mm|in)$`)

// Threads returns the threads that tangs are made with: the M series of ISO 261 and the
// UNC and UNF series of ASME B1.1 with the drills that tap charts give (from memory,
// but for the stress areas, which a test holds against a published table).
func Threads() []Thread {
	const inch = 25.4
	return []Thread{
		{"M4x0.7", 4, 0.7, true, 3.3, "3.3 mm"},
		{"M5x0.8", 5, 0.8, true, 4.2, "4.2 mm"},
		{"M6x1", 6, 1, true, 5.0, "5.0 mm"},
		{"M8x1.25", 8, 1.25, true, 6.8, "6.8 mm"},
		{"8-32", 0.1640 * inch, inch / 32, false, 0.1360 * inch, "no. 29, 0.1360 in"},
		{"10-24", 0.1900 * inch, inch / 24, false, 0.1495 * inch, "no. 25, 0.1495 in"},
		{"10-32", 0.1900 * inch, inch / 32, false, 0.1590 * inch, "no. 21, 0.1590 in"},
		{"1/4-20", 0.2500 * inch, inch / 20, false, 0.2010 * inch, "no. 7, 0.2010 in"},
		{"1/4-28", 0.2500 * inch, inch / 28, false, 0.2130 * inch, "no. 3, 0.2130 in"},
		{"5/16-18", 0.3125 * inch, inch / 18, false, 0.2570 * inch, "letter F, 0.2570 in"},
	}
}

// specialNamed returns a thread by its dimensions, as "6.6 x 1.1 mm, drill 5.5 mm": of the
// metric form where they are in mm, of the unified one where they are in inches.
func specialNamed(name string) (Thread, bool) {
	m := specialThread.FindStringSubmatch(strings.TrimSpace(name))
	if m == nil {
		return Thread{}, false
	}
	var sizes [3]float64
	for i, text := range []string{m[1] + " " + m[3], m[2] + " " + m[3], m[4] + " " + m[5]} {
		var err error
		if sizes[i], err = document.ParseLength(text, document.Millimetre); err != nil {
			return Thread{}, false
		}
	}
	t := Thread{Name: fmt.Sprintf("%s x %s %s", m[1], m[2], m[3]), Major: sizes[0], Pitch: sizes[1], Metric: m[3] == "mm", TapDrill: sizes[2], DrillName: m[4] + " " + m[5]}
	sound := t.Pitch > 0 && t.Root() > 0 && t.TapDrill > t.Root()-resolution && t.TapDrill < t.Major && t.Major <= widestThread
	return t, sound
}

// widestThread bounds a thread by its dimensions, mm (judgement: a tang's width).
const widestThread = 120

// scaled returns the text of a thread with every dimension times a factor: the name of the
// standard one that it comes to, or its dimensions. One whose pitch goes without saying is
// written short, as M6, or without spaces, so that the way back finds the author's spelling.
func (t Thread) scaled(factor float64, short bool) string {
	for _, other := range Threads() {
		if other.Metric == t.Metric && same(other.Major, t.Major*factor) && same(other.Pitch, t.Pitch*factor) && same(other.TapDrill, t.TapDrill*factor) {
			if short && other.Metric {
				name, _, _ := strings.Cut(other.Name, "x")
				return name
			}
			return other.Name
		}
	}
	times := " x "
	if short {
		times = "x"
	}
	unit, name := document.Inch, "in"
	if t.Metric {
		unit, name = document.Millimetre, "mm"
	}
	say := func(mm float64) string {
		return strconv.FormatFloat(math.Round(mm*factor/unit.Millimetres()*1e12)/1e12, 'f', -1, 64)
	}
	return fmt.Sprintf("%s%s%s %s, drill %s %s", say(t.Major), times, say(t.Pitch), name, say(t.TapDrill), name)
}

// Standard reports whether taps and dies come in the thread.
func (t Thread) Standard() bool {
	return slices.ContainsFunc(Threads(), func(other Thread) bool { return other.Name == t.Name })
}

// same reports whether two sizes differ by no more than a factor of ten digits leaves.
func same(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Abs(b) }

// ThreadNamed returns a thread by its name: "M6x1", or "M6" for the coarse one; or by its
// dimensions, as "6.6 x 1.1 mm, drill 5.5 mm".
func ThreadNamed(name string) (Thread, error) {
	if special, ok := specialNamed(name); ok {
		return special, nil
	}
	clean := strings.ToLower(strings.TrimPrefix(strings.ReplaceAll(strings.TrimSpace(name), " ", ""), "#"))
	threads := Threads()
	for _, t := range threads {
		full := strings.ToLower(t.Name)
		if short, _, metric := strings.Cut(full, "x"); clean == full || metric && clean == short {
			return t, nil
		}
	}
	known := make([]string, len(threads))
	for i, t := range threads {
		known[i] = t.Name
	}
	return Thread{}, fmt.Errorf("no thread %q; the threads are: %s; any other by its dimensions, as \"6.6 x 1.1 mm, drill 5.5 mm\"", name, strings.Join(known, ", "))
}

// PitchDiameter returns the major diameter less 0.649519 pitches, mm (ISO 724).
func (t Thread) PitchDiameter() float64 { return t.Major - 3*math.Sqrt(3)/8*t.Pitch }

// Root returns the diameter at the root of the external thread, mm: the major diameter
// less 1.22687 pitches (ISO 724, rounded root).
func (t Thread) Root() float64 { return t.Major - 1.22687*t.Pitch }

// StressArea returns the area that a tensile test finds, mm²: π/4·(d - 0.9382·P)² for
// metric threads (ISO 898-1), π/4·(d - 0.9743·P)² for unified ones (ASME B1.1).
func (t Thread) StressArea() float64 {
	factor := 0.9743
	if t.Metric {
		factor = 0.9382
	}
	return math.Pi / 4 * square(t.Major-factor*t.Pitch)
}

// Share returns the depth of thread that a tap drill leaves, as a part of the full
// depth of 1.299038 pitches that tap charts count from.
func (t Thread) Share() float64 { return (t.Major - t.TapDrill) / (1.299038 * t.Pitch) }

// thread returns the thread of the tang's extension; an error where it has none.
func (k Knife) thread() (Thread, error) {
	if k.Tang.Thread == "" {
		return Thread{}, errors.New("the tang has no thread")
	}
	return ThreadNamed(k.Tang.Thread)
}
