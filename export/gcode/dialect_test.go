package gcode

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/templates"
	"fullerwright/toolpath"
	"fullerwright/toolpath/dialect"
)

// randomDialect draws a valid dialect: each key of the table from its whole range, or from
// the few values that matter, until no rule between the keys is broken.
func randomDialect(random *rand.Rand, use dialect.Use) dialect.Dialect {
	few := map[string][]int{"line_most": {66, 70, 80, 120, 252}, "comment_most": {20, 50, 66}, "block_number_step": {0, 0, 1, 5, 10}, "block_number_most": {99, 990, 9990, 99999},
		"program_number": {0, 1, 1234}, "file_blocks_most": {0, 120, 200, 1000}, "file_bytes_most": {0, 5000, 12000}}
	for {
		d := dialect.Presets()[random.IntN(4)]
		for _, e := range dialect.Table() {
			var v document.Value
			switch {
			case e.Kind == document.Flag:
				v.Flag = random.IntN(2) == 0
			case e.Kind == document.Choice:
				v.Text = e.Choices[random.IntN(len(e.Choices))]
			case e.Kind == document.Angle:
				v.Float = (e.Min + random.Float64()*(e.Max-e.Min)) * math.Pi / 180
			case e.Kind == document.Number:
				v.Float = math.Round(random.Float64()*300) / 100
			case few[e.Name] != nil:
				v.Count = few[e.Name][random.IntN(len(few[e.Name]))]
			default:
				v.Count = int(e.Min) + random.IntN(int(e.Max-e.Min)+1)
			}
			e.Set(&d, v)
		}
		d.Name = "drawn"
		if longest := d.LongestBlock(use); random.IntN(2) == 0 { // so that feeds must stand alone
			d.LineMost = max(40, longest)
			d.CommentMost = min(d.CommentMost, d.LineMost)
		}
		if len(dialect.Check(d, use)) == 0 {
			return d
		}
	}
}

// planned is a knife that asks for every operation, planned for a dialect.
type planned struct {
	blade profile.Blade
	shop  toolpath.Shop
	jobs  []*toolpath.Job
}

// plannedFor plans all operations for a machine of a dialect.
func plannedFor(t *testing.T, d dialect.Dialect, inch bool) planned {
	t.Helper()
	// With few decimals ramps are flat, and high tabs would leave no room between them.
	k, err := profile.Parse("every.toml", []byte(strings.Replace(everyOperation, "[outline]\n", "[outline]\ntab_height = 0.4\n", 1)))
	require.NoError(t, err)
	b, err := profile.Build(k, profile.Measured{})
	require.NoError(t, err)
	shop, err := toolpath.ParseShop("shop.toml", templates.Shop())
	require.NoError(t, err)
	shop.Dialects, shop.Machine.Dialect, shop.Inch = []dialect.Dialect{d}, d.Name, inch
	out := planned{blade: b, shop: shop}
	for _, step := range toolpath.Sequence(b, shop) {
		job, _, err := toolpath.Plan(b, shop, step, toolpath.SetupFor(b.Bar, step.Face, toolpath.AboutX), "")
		require.NoError(t, err, "%v", step)
		job.Cutter.Slot, job.Coolant = 7, "flood"
		out.jobs = append(out.jobs, job)
	}
	return out
}

// TestRandomDialects writes every operation in random valid dialects, in millimetres and in
// inches, in as many files as they take, and reads the files back: the motion is the one
// that was planned, each file is a whole program, and the files cut the bar as the proof
// wants it. Each operation is proved in one dialect of few decimals, for which ramps are
// planned flatter, and in one of many; the outline, which ramps along arcs, also by chords.
func TestRandomDialects(t *testing.T) {
	const dialects = 12
	random := rand.New(rand.NewPCG(7, 2))
	plans := map[float64]planned{}
	proved := map[string]bool{}
	several := 0
	for n := range dialects {
		inch := n%2 == 1
		d := randomDialect(random, dialect.Use{Inch: inch, Reach: 400})
		// The plan depends on the dialect by its last decimal alone, where that is coarse.
		const coarse = 3e-4
		class := math.Max(d.Step(inch), coarse)
		if _, is := plans[class]; !is {
			plans[class] = plannedFor(t, d, inch)
		}
		for _, job := range plans[class].jobs {
			about := fmt.Sprintf("%v, inch %v, %+v", job.Step, inch, d)
			read := writtenAndRead(t, job, d, inch, about)
			if len(read) > 1 {
				several++
			}
			helices := d.Helices || job.Step.Operation != toolpath.Outline
			if key := fmt.Sprint(job.Step, class > coarse, helices); !proved[key] {
				proved[key] = true
				prove(t, plans[class], job, read, rounded(d, inch), about)
			}
			if t.Failed() {
				return
			}
		}
	}
	assert.Greater(t, several, dialects, "few were split")
}

// writtenAndRead writes a job and returns what its files are read back as.
func writtenAndRead(t *testing.T, job *toolpath.Job, d dialect.Dialect, inch bool, about string) []Program {
	t.Helper()
	checked, err := job.Checked()
	require.NoError(t, err)
	files, err := WriteFiles(checked, d, Text{Inch: inch, Heading: []string{"A heading"}, Number: d.ProgramNumber})
	require.NoError(t, err, about)
	var read []Program
	for i, text := range files {
		program, err := ReadWith(bytes.NewReader(text), d.Needs())
		require.NoError(t, err, "%s\n%s", about, text)
		wholeProgram(t, job, d, program, text, about)
		numbered(t, d, i, len(files), text)
		read = append(read, program)
	}
	if d.DrillCycle && job.Step.Bore > 0 {
		sameHoles(t, job, read, rounded(d, inch), about)
	} else {
		samePath(t, job, read, rounded(d, inch), about)
	}
	return read
}

// rounded bounds how far the text of a dialect lies from the plan, mm: half a step of the
// last decimal along three axes, at both ends; twice that for arcs by their radius; and
// chords.
func rounded(d dialect.Dialect, inch bool) float64 {
	step, factor := d.Step(inch), 2.0
	if d.ArcForm == dialect.ByRadius {
		factor = 4
	}
	return factor*math.Sqrt(3)/2*step + 2*writerChordError
}

// prove cuts the bar with the files, one after another.
func prove(t *testing.T, p planned, job *toolpath.Job, read []Program, rounding float64, about string) {
	t.Helper()
	state := toolpath.NewBarState(p.blade, p.shop, 3)
	var proofs []toolpath.FaceProof
	for _, program := range read[:len(read)-1] {
		proofs = append(proofs, state.ProvePart(job.Step, job.Setup, job.Cutter, program.Motions))
	}
	whole := state.Prove(job.Step, job.Setup, job.Cutter, job.Cusp, read[len(read)-1].Motions).After(proofs...)
	assert.Empty(t, whole.Judged.Findings, about)
	assert.Less(t, whole.Judged.Gouge.Value, 2*rounding, "%s at %+v", about, whole.Judged.Gouge)
}
