package gcode

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/templates"
	"fullerwright/toolpath"
	"fullerwright/toolpath/dialect"
)

// mutationJob is a clean program with all that its proof needs.
type mutationJob struct {
	name  string
	blade profile.Blade
	shop  toolpath.Shop
	job   *toolpath.Job
	lines []string
}

// mutant is a program, or the way it is run, with one fault planted.
type mutant struct {
	class  string
	line   int // where it was planted; 0 where the fault is not in the text
	lines  []string
	setup  toolpath.Setup
	cutter toolpath.Cutter
}

// outcome is what the reader and the proof made of a program.
type outcome struct {
	lines   []int // that were named
	found   bool
	heights []float64
	first   string
}

func newMutationJob(t *testing.T, pattern string, face profile.Face, flip toolpath.Flip) mutationJob {
	t.Helper()
	data, _ := templates.Pattern(pattern)
	k, err := profile.Parse(pattern, data)
	require.NoError(t, err)
	b, err := profile.Build(k, profile.Measured{})
	require.NoError(t, err)
	shop, err := toolpath.ParseShop("shop.toml", templates.Shop())
	require.NoError(t, err)
	checked := checkedJob(t, pattern, face, flip)
	text, err := Write(checked, dialect.FullStandard(), false, nil)
	require.NoError(t, err)
	return mutationJob{fmt.Sprintf("%s, %s face, turned %s", pattern, face, flip), b, shop, checked.Job(), strings.Split(strings.TrimSpace(string(text)), "\n")}
}

// try reads a program and cuts a new bar with it.
func (j mutationJob) try(m mutant) outcome {
	program, err := readText(strings.Join(m.lines, "\n") + "\n")
	var rule *RuleError
	if errors.As(err, &rule) {
		return outcome{lines: []int{rule.TextLine}, found: true, first: err.Error()}
	}
	if err != nil {
		return outcome{found: true, first: err.Error()}
	}
	state := toolpath.NewBarState(j.blade, j.shop, j.job.Cutter.Radius())
	result := state.Prove(j.job.Step, m.setup, m.cutter, j.job.Cusp, program.Motions)
	out := outcome{found: !result.Judged.OK(), heights: result.Map.Height}
	for _, f := range result.Judged.Findings {
		out.lines = append(out.lines, f.TextLine)
		if out.first == "" {
			out.first = fmt.Sprintf("line %d: %s: %s", f.TextLine, f.Kind, f.Message)
		}
	}
	return out
}

// plain is the program as it is, run as it should be.
func (j mutationJob) plain() mutant {
	return mutant{lines: j.lines, setup: j.job.Setup, cutter: j.job.Cutter}
}

// changed is the program with one line, counted from 1, replaced or taken out.
func (j mutationJob) changed(class string, line int, replacement ...string) mutant {
	m := j.plain()
	m.class, m.line = class, line
	m.lines = append(append(append([]string(nil), j.lines[:line-1]...), replacement...), j.lines[line:]...)
	return m
}

var zWord = regexp.MustCompile(`Z(-?[0-9.]+)`)

func isCut(line string) bool {
	return strings.HasPrefix(line, "G1 ") || strings.HasPrefix(line, "G2 ") || strings.HasPrefix(line, "G3 ")
}

// some returns about n of the lines that a test picks, spread over the program.
func (j mutationJob) some(n int, pick func(line string) bool) []int {
	var all []int
	for i, line := range j.lines {
		if pick(line) {
			all = append(all, i+1)
		}
	}
	if len(all) <= n {
		return all
	}
	var out []int
	for i := range n {
		out = append(out, all[i*(len(all)-1)/max(1, n-1)])
	}
	return out
}

// mutants plants faults of every class that a job has.
func (j mutationJob) mutants() []mutant {
	var out []mutant
	out = append(out, j.runWrong()...)
	for _, line := range j.some(1, func(l string) bool { return strings.Contains(l, "Y-") }) {
		out = append(out, j.changed("Y sign wrong", line, strings.Replace(j.lines[line-1], "Y-", "Y", 1)))
	}
	swap := strings.NewReplacer("G2 ", "G3 ", "G3 ", "G2 ")
	for _, line := range j.some(4, func(l string) bool { return strings.HasPrefix(l, "G2 ") || strings.HasPrefix(l, "G3 ") }) {
		out = append(out, j.changed("one arc reversed", line, swap.Replace(j.lines[line-1])))
	}
	for _, line := range j.some(5, func(l string) bool { return isCut(l) && strings.Contains(l, "Z-") }) {
		deeper := zWord.ReplaceAllStringFunc(j.lines[line-1], func(w string) string {
			v, _ := strconv.ParseFloat(w[1:], 64)
			return fmt.Sprintf("Z%.4f", v-0.05)
		})
		out = append(out, j.changed("0.05 mm too deep", line, deeper))
		out = append(out, j.changed("decimal point lost", line, zWord.ReplaceAllStringFunc(j.lines[line-1], func(w string) string { return strings.Replace(w, ".", "", 1) })))
	}
	for _, line := range j.some(6, func(l string) bool { return strings.HasPrefix(l, "G1 ") && strings.Contains(l, "X") }) {
		out = append(out, j.changed("rapid at depth", line, strings.Replace(j.lines[line-1], "G1 ", "G0 ", 1)))
	}
	feed := regexp.MustCompile(` F[0-9.]+`)
	for _, line := range j.some(6, func(l string) bool { return feed.MatchString(l) }) {
		out = append(out, j.changed("feed word missing", line, feed.ReplaceAllString(j.lines[line-1], "")))
	}
	for _, line := range j.some(1, func(l string) bool { return l == "G21" }) {
		out = append(out, j.changed("inch for mm", line, "G20"))
	}
	for _, line := range j.some(1, func(l string) bool { return l == "G18" }) {
		out = append(out, j.changed("plane word missing", line))
	}
	for _, line := range j.some(8, isCut) {
		out = append(out, j.changed("block deleted", line))
	}
	for _, line := range j.some(9, isCut)[:8] {
		if line < len(j.lines) {
			m := j.changed("two blocks swapped", line)
			m.lines = append([]string(nil), j.lines...)
			m.lines[line-1], m.lines[line] = m.lines[line], m.lines[line-1]
			out = append(out, m)
		}
	}
	return append(out, j.missingLanes()...)
}

// runWrong are faults that are not in the text: the bar or the cutter is not what the
// program is for.
func (j mutationJob) runWrong() []mutant {
	var out []mutant
	run := func(class string, change func(m *mutant)) {
		m := j.plain()
		m.class = class
		change(&m)
		out = append(out, m)
	}
	other := map[profile.Face]profile.Face{profile.Right: profile.Left, profile.Left: profile.Right}[j.job.Setup.Face]
	run("wrong face", func(m *mutant) {
		m.setup.Placement = toolpath.SetupFor(j.blade.Bar, other, toolpath.AboutY).Placement
	})
	run("tool one size larger", func(m *mutant) { m.cutter.Diameter += 2 })
	if j.job.Setup.Face == profile.Left {
		flip := map[toolpath.Flip]toolpath.Flip{toolpath.AboutX: toolpath.AboutY, toolpath.AboutY: toolpath.AboutX}[j.job.Setup.Flip]
		run("wrong flip", func(m *mutant) { m.setup.Placement = toolpath.SetupFor(j.blade.Bar, profile.Left, flip).Placement })
	}
	if j.job.Setup.Face == profile.Left && j.job.Setup.Flip == toolpath.AboutX {
		for _, off := range []float64{0.1, -0.1, 0.5} {
			run("bar width off", func(m *mutant) { m.setup.Placement.Y0 += off })
		}
	}
	return out
}

// missingLanes takes out whole finishing passes: from the way over the start to the way
// up again.
func (j mutationJob) missingLanes() []mutant {
	starts := j.some(1000, func(l string) bool { return strings.HasPrefix(l, "G0 ") && strings.Contains(l, "X") })
	var out []mutant
	for i := max(1, len(starts)-4); i < len(starts); i++ {
		end := len(j.lines) - 3 // before G17, M5 and the end
		if i+1 < len(starts) {
			end = starts[i+1] - 1
		}
		m := j.changed("lane missing", starts[i])
		m.line = 0
		m.lines = append(append([]string(nil), j.lines[:starts[i]-1]...), j.lines[end:]...)
		out = append(out, m)
	}
	return out
}

// TestMutants plants faults in programs of several jobs. Every one must be found, and
// where it stands in the text a finding must name that line or the next that moves; nothing
// may be found in the programs as they are. A mutant whose cut is the same to a
// nanometre and that breaks no rule is no fault; those are counted apart, with the cut
// compared as proof.
func TestMutants(t *testing.T) {
	jobs := []mutationJob{
		newMutationJob(t, "tarn", profile.Right, toolpath.AboutY),
		newMutationJob(t, "tarn", profile.Left, toolpath.AboutX),
		newMutationJob(t, "tarn", profile.Left, toolpath.AboutY),
		newMutationJob(t, "heron", profile.Left, toolpath.AboutX),
	}
	local := map[string]bool{"one arc reversed": true, "0.05 mm too deep": true, "rapid at depth": true, "decimal point lost": true, "plane word missing": true}
	found, same, named, planted := map[string]int{}, map[string]int{}, map[string]int{}, map[string]int{}
	for _, j := range jobs {
		clean := j.try(j.plain())
		require.False(t, clean.found, "%s is found faulty: %s", j.name, clean.first)
		for _, m := range j.mutants() {
			planted[m.class]++
			got := j.try(m)
			switch {
			case got.found:
				found[m.class]++
			case sameCut(clean.heights, got.heights):
				same[m.class]++
				continue
			default:
				t.Errorf("%s: not found: %s at line %d: %q", j.name, m.class, m.line, j.lines[max(0, m.line-1)])
				continue
			}
			if !local[m.class] {
				continue
			}
			if j.near(got.lines, m.line) {
				named[m.class]++
			} else {
				t.Errorf("%s: %s at line %d (%q) is named at %v: %s", j.name, m.class, m.line, j.lines[m.line-1], got.lines, got.first)
			}
		}
	}
	total, hits, alike := 0, 0, 0
	for class, n := range planted {
		t.Logf("%-22s %3d planted, %3d found, %3d with the same cut", class, n, found[class], same[class])
		assert.GreaterOrEqual(t, n, 3, class)
		total, hits, alike = total+n, hits+found[class], alike+same[class]
	}
	assert.GreaterOrEqual(t, total, 60)
	t.Logf("mutation score: %d of %d found; %d more leave the same cut", hits, total-alike, alike)
}

// near reports whether a line, or the next one that moves the cutter, is among those
// named: a block that ends in the wrong place may break the rule of the next.
func (j mutationJob) near(lines []int, line int) bool {
	next := line + 1
	for next < len(j.lines) && !isCut(j.lines[next-1]) {
		next++
	}
	for _, n := range lines {
		if n >= line && n <= next {
			return true
		}
	}
	return false
}

func sameCut(a, b []float64) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if math.Abs(a[i]-b[i]) > 1e-6 {
			return false
		}
	}
	return true
}
