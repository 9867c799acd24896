package gcode

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
	"fullerwright/templates"
	"fullerwright/toolpath"
	"fullerwright/toolpath/dialect"
	"fullerwright/toolpath/motion"
	"fullerwright/toolpath/proof"
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
	for _, step := range toolpath.Sequence(b) {
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
	if d.DrillCycle && job.Step.Operation == toolpath.Holes {
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

// wholeProgram looks whether a file is complete in itself and keeps to its dialect.
func wholeProgram(t *testing.T, job *toolpath.Job, d dialect.Dialect, p Program, text []byte, about string) {
	t.Helper()
	lines := strings.Split(strings.TrimSuffix(string(text), d.LineEnd.Bytes()), d.LineEnd.Bytes())
	for _, line := range lines {
		if len(line) > d.LineMost || strings.Contains(line, "\n") {
			t.Fatalf("%q\n%s", line, about)
		}
	}
	if d.FileBlocksMost > 0 {
		require.LessOrEqual(t, len(lines), d.FileBlocksMost, about)
	}
	if d.FileBytesMost > 0 {
		require.LessOrEqual(t, len(text), d.FileBytesMost, about)
	}
	require.Equal(t, d.End, p.Ended, about)
	spelledAs(t, d, lines, about)
	first, last := true, motion.Motion{}
	for _, m := range p.Motions {
		if m.Kind > motion.Arc {
			continue
		}
		if first {
			require.Equal(t, motion.Rapid, m.Kind, about)
			require.InDelta(t, job.Clearance, m.To.Z, 0.01, about)
		}
		if m.Kind == motion.Arc {
			has := m.Plane == motion.PlaneXY && d.ArcsXY && (d.Helices || m.From.Z == m.To.Z) || m.Plane == motion.PlaneZX && d.ArcsZX
			if !has || math.Abs(m.Sweep) > d.SweepMost.Radians()+0.01+4*rounded(d, p.Inch)/m.Length() {
				t.Fatalf("%+v\n%s", m, about)
			}
		}
		if m.Kind != motion.Rapid {
			if m.Spindle != motion.SpindleClockwise || m.Speed != job.Spindle || m.Mist || !m.Flood {
				t.Fatalf("%+v\n%s", m, about)
			}
		}
		first, last = false, m
	}
	require.Equal(t, motion.Rapid, last.Kind, about)
	require.InDelta(t, job.Clearance, last.To.Z, 0.01, about)
	waited := 0.0
	for _, m := range p.Motions {
		if m.Kind == motion.Dwell {
			waited += m.Seconds
		}
	}
	require.InDelta(t, d.SpindleWait, waited, 0.01, about)
	if d.Tool == dialect.ToolChange {
		require.Equal(t, 7, last.Slot, about)
	}
}

// moving matches a block that moves, without its number.
var moving = regexp.MustCompile(`^(G0 |G1 |G2 |G3 |G83 )?(X\S+ ?)?(Y\S+ ?)?(Z\S+ ?)?(I\S+ ?)?(J\S+ ?)?(K\S+ ?)?(R\S+ ?)?(Q\S+ ?)?(F\S+)?$`)

// spelledAs looks at the words of each line: block numbers, comments, words repeated or
// not, centres or radii.
func spelledAs(t *testing.T, d dialect.Dialect, lines []string, about string) {
	t.Helper()
	if d.Percent {
		require.Equal(t, [2]string{"%", "%"}, [2]string{lines[0], lines[len(lines)-1]}, about)
		lines = lines[1 : len(lines)-1]
	}
	marks := map[dialect.Comments]string{dialect.Parentheses: "(", dialect.Semicolon: ";"}
	number, mode, fed := 0, "", false
	for _, line := range lines {
		hold := func(ok bool, rule string) {
			if !ok {
				t.Fatalf("%s: %q\n%s", rule, line, about)
			}
		}
		if strings.HasPrefix(line, "(") || strings.HasPrefix(line, ";") {
			hold(marks[d.Comments] == line[:1], "marks of comments")
			hold(len(line) <= d.CommentMost, "length of comments")
			continue
		}
		if strings.HasPrefix(line, "O") {
			continue
		}
		words := line
		if d.BlockNumbers.Step > 0 {
			if number += d.BlockNumbers.Step; number > d.BlockNumbers.Most {
				number = d.BlockNumbers.Step
			}
			hold(strings.HasPrefix(line, fmt.Sprintf("N%d ", number)), "block number")
			_, words, _ = strings.Cut(line, " ")
		}
		hold(!strings.Contains(words, "N"), "no more block numbers")
		m := moving.FindStringSubmatch(words)
		if m == nil || m[2]+m[3]+m[4] == "" {
			fed = strings.HasPrefix(words, "F")
			continue
		}
		hold(!d.RepeatMotion || m[1] != "", "word of motion repeated")
		hold(d.RepeatMotion || m[1] == "G83 " || mode != m[1], "word of motion not repeated")
		if m[1] != "" {
			mode = m[1]
		}
		hold(!d.RepeatAxes || mode == "G0 " || m[2] != "" && m[3] != "" && m[4] != "", "axes repeated")
		hold(!d.RepeatFeed || mode == "G0 " || m[10] != "" || fed, "feed repeated")
		fed = false
		if mode == "G2 " || mode == "G3 " {
			hold((d.ArcForm == dialect.ByRadius) == (m[8] != "") && (d.ArcForm == dialect.ByCentre) == (m[5] != ""), "form of arcs")
		}
	}
	for _, word := range []string{d.WorkOffset, d.PathMode} {
		if word != "none" {
			require.Regexp(t, `(?m)(^|\s)`+regexp.QuoteMeta(word)+`$`, strings.Join(lines, "\n"), about)
		}
	}
}

var programNumber = regexp.MustCompile(`(?m)^O([0-9]+)\r?$`)

// numbered looks whether a file says which of how many it is.
func numbered(t *testing.T, d dialect.Dialect, file, files int, text []byte) {
	t.Helper()
	if d.ProgramNumber > 0 {
		m := programNumber.FindSubmatch(text)
		require.NotNil(t, m)
		n, err := strconv.Atoi(string(m[1]))
		require.NoError(t, err)
		require.Equal(t, d.ProgramNumber+file, n)
	}
	if d.Comments != dialect.NoComments && files > 1 {
		require.Contains(t, strings.Join(strings.Fields(string(text)), " "), fmt.Sprintf("FILE %d OF %d", file+1, files))
	}
}

// fedOf returns the fed motions of a plan.
func fedOf(moves []toolpath.Move) []motion.Motion {
	var out []motion.Motion
	var at motion.Vec
	for _, m := range moves {
		if m.Kind != motion.Rapid {
			out = append(out, motion.Motion{Kind: m.Kind, From: at, To: m.To, Plane: m.Plane, Centre: m.Centre, Sweep: m.Sweep, Feed: m.Feed})
		}
		at = m.To
	}
	return out
}

// fedIn returns the fed motions of the files of a job, without the ways down with which a
// file goes on where the one before left off.
func fedIn(read []Program) []motion.Motion {
	var out []motion.Motion
	for i, p := range read {
		begun := false
		for _, m := range p.Motions {
			if m.Kind != motion.Line && m.Kind != motion.Arc {
				continue
			}
			down := m.From.X == m.To.X && m.From.Y == m.To.Y && m.To.Z < m.From.Z
			if i > 0 && !begun && down && m.To == out[len(out)-1].To {
				begun = true
				continue
			}
			begun = true
			out = append(out, m)
		}
	}
	return out
}

// away returns how far a point lies from a motion.
func away(p motion.Vec, m motion.Motion) float64 {
	share := 0.0
	switch d := m.To.Sub(m.From); {
	case m.Kind == motion.Line && d.Norm() > 0:
		q := p.Sub(m.From)
		share = (q.X*d.X + q.Y*d.Y + q.Z*d.Z) / (d.Norm() * d.Norm())
	case m.Kind == motion.Arc:
		a, b, _ := m.Plane.Split(m.From)
		c, e, _ := m.Plane.Split(m.Centre)
		x, y, _ := m.Plane.Split(p)
		turn := math.Remainder(math.Atan2(y-e, x-c)-math.Atan2(b-e, a-c)-m.Sweep/2, 2*math.Pi)
		share = (turn + m.Sweep/2) / m.Sweep
	}
	return min(p.Sub(m.At(math.Max(0, math.Min(1, share)))).Norm(), p.Sub(m.From).Norm(), p.Sub(m.To).Norm())
}

// samePath looks whether the fed motions read are those planned, in their order: each lies
// along the planned one at hand, no planned one longer than the rounding is passed over,
// and the feeds are those planned, rounded down.
func samePath(t *testing.T, job *toolpath.Job, read []Program, tolerance float64, about string) {
	t.Helper()
	plan := fedOf(job.Moves)
	i, reached := 0, 0.0
	short := func(m motion.Motion) bool { return m.Length() < 4*tolerance }
	for _, m := range fedIn(read) {
		for _, share := range []float64{0.3, 0.7, 1} {
			p := m.At(share)
			for i < len(plan) && away(p, plan[i]) > tolerance && (short(plan[i]) || plan[i].To.Sub(m.From).Norm() < tolerance) {
				i++
			}
			if i == len(plan) || away(p, plan[i]) > tolerance {
				t.Fatalf("line %d: at %+v the way leaves the plan, move %d of %d\n%s", m.TextLine, p, i, len(plan), about)
			}
			reached = share
		}
		if m.Feed > plan[i].Feed+1e-6 || m.Feed < plan[i].Feed-1 {
			t.Fatalf("line %d: a feed of %g, planned %g\n%s", m.TextLine, m.Feed, plan[i].Feed, about)
		}
		if reached == 1 && m.To.Sub(plan[i].To).Norm() < tolerance && i < len(plan)-1 {
			i++
		}
	}
	for ; i < len(plan)-1 && short(plan[i+1]); i++ {
	}
	require.Equal(t, len(plan)-1, i, "the way ends at %+v\n%s", plan[i], about)
}

// sameHoles looks whether the cycle drills the holes of the plan: the same places in the
// same order, as deep, no peck deeper than planned.
func sameHoles(t *testing.T, job *toolpath.Job, read []Program, tolerance float64, about string) {
	t.Helper()
	type drilled struct {
		place geom.Point
		depth float64
		bite  float64
	}
	holes := func(fed []motion.Motion) []drilled {
		var out []drilled
		for _, m := range fed {
			place := geom.Point{X: m.To.X, Y: m.To.Y}
			if n := len(out); n == 0 || math.Hypot(out[n-1].place.X-place.X, out[n-1].place.Y-place.Y) > 0.01 {
				out = append(out, drilled{place: place, depth: m.To.Z}) // the first way down is through air too
				continue
			}
			h := &out[len(out)-1]
			h.bite, h.depth = math.Max(h.bite, h.depth-m.To.Z), math.Min(h.depth, m.To.Z)
		}
		return out
	}
	want, got := holes(fedOf(job.Moves)), holes(fedIn(read))
	require.Len(t, got, len(want), about)
	for i := range want {
		require.InDelta(t, want[i].place.X, got[i].place.X, tolerance, about)
		require.InDelta(t, want[i].place.Y, got[i].place.Y, tolerance, about)
		require.InDelta(t, want[i].depth, got[i].depth, tolerance, about)
		require.LessOrEqual(t, got[i].bite, want[i].bite+0.01, about)
	}
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

// TestFewDecimalsKeepTheStandardsTolerance writes arcs of many radii and sweeps with the
// fewest decimals: the standard wants both ends as far from the centre within 0.002 mm, or
// 0.0002 inch (NISTIR 6556, 3.5.3.2), and the reader holds them to it. With the centre
// rounded as it is, about one in five thousand of those with three decimals breaks that
// (counted, 400 000 arcs).
func TestFewDecimalsKeepTheStandardsTolerance(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 5))
	d := dialect.FullStandard()
	d.DecimalsMM, d.DecimalsInch, d.FileBlocksMost = 3, 4, 0
	job := &toolpath.Job{Spindle: 1000, Clearance: 5}
	at := motion.Vec{Z: 5}
	job.Moves = append(job.Moves, toolpath.Move{Kind: motion.Rapid, To: at, Purpose: toolpath.Position})
	for range 20000 {
		radius, sweep := math.Exp(random.Float64()*6-0.7), (random.Float64()*2-1)*170*math.Pi/180
		from := random.Float64() * 2 * math.Pi
		sin, cos := math.Sincos(from)
		centre := motion.Vec{X: at.X - radius*cos, Y: at.Y - radius*sin, Z: at.Z}
		sin, cos = math.Sincos(from + sweep)
		to := motion.Vec{X: centre.X + radius*cos, Y: centre.Y + radius*sin, Z: at.Z}
		job.Moves = append(job.Moves, toolpath.Move{Kind: motion.Arc, Centre: centre, Sweep: sweep, To: to, Feed: 100, Purpose: toolpath.Finish})
		at = to
	}
	checked, err := job.Checked()
	require.NoError(t, err)
	for _, inch := range []bool{false, true} {
		text, err := Write(checked, d, inch, nil)
		require.NoError(t, err)
		read, err := Read(bytes.NewReader(text))
		require.NoError(t, err)
		assert.Greater(t, len(read.Motions), 19900)
	}
}

// TestWordsAfterAnArc: what an arc has changed is known to the blocks after it: a way back
// to the Y, or the Z, that it began from is written.
func TestWordsAfterAnArc(t *testing.T) {
	vec := func(x, y, z float64) motion.Vec { return motion.Vec{X: x, Y: y, Z: z} }
	job := &toolpath.Job{Spindle: 1000, Clearance: 5, Moves: []toolpath.Move{
		{Kind: motion.Rapid, To: vec(0, 0, 5)},
		{Kind: motion.Line, To: vec(0, 0, 0), Feed: 100},
		{Kind: motion.Arc, To: vec(10, 10, 0), Centre: vec(0, 10, 0), Sweep: math.Pi / 2, Feed: 200},
		{Kind: motion.Line, To: vec(20, 0, 0), Feed: 200},
		{Kind: motion.Arc, Plane: motion.PlaneZX, To: vec(30, 0, -10), Centre: vec(30, 0, 0), Sweep: -math.Pi / 2, Feed: 100},
		{Kind: motion.Line, To: vec(40, 0, 0), Feed: 200},
		{Kind: motion.Arc, To: vec(40, 0, -1), Centre: vec(40, 5, 0), Sweep: 2 * math.Pi, Feed: 200},
		{Kind: motion.Line, To: vec(40, 0, 0), Feed: 200},
		{Kind: motion.Rapid, To: vec(40, 0, 5)},
	}}
	checked, err := job.Checked()
	require.NoError(t, err)
	random := rand.New(rand.NewPCG(3, 3))
	for range 60 {
		d := randomDialect(random, dialect.Use{Reach: 400})
		text, err := Write(checked, d, false, nil)
		require.NoError(t, err)
		read, err := ReadWith(bytes.NewReader(text), d.Needs())
		require.NoError(t, err, string(text))
		samePath(t, job, []Program{read}, rounded(d, false), string(text))
	}
}

// TestFilesInTheirOrder: the files of a job cut the bar as the proof wants it in their
// order: one left out is found, and so are two exchanged where the cut is closed. (A
// shoulder is open to the sides of the bar, and may be entered there at any depth.)
func TestFilesInTheirOrder(t *testing.T) {
	d := dialect.FullStandard()
	d.Name, d.FileBlocksMost, d.ArcsZX = "short files", 100, false
	p := plannedFor(t, d, false)
	tried := map[toolpath.Operation]bool{}
	for _, job := range p.jobs {
		if job.Step.Face != profile.Right || tried[job.Step.Operation] {
			continue
		}
		files := writtenAndRead(t, job, d, false, job.Step.String())
		if len(files) < 2 {
			continue
		}
		tried[job.Step.Operation] = true
		assert.Empty(t, found(p, job, files), "%v", job.Step)
		assert.NotEmpty(t, found(p, job, files[1:]), "%v without its first file", job.Step)
		assert.NotEmpty(t, found(p, job, files[:len(files)-1]), "%v without its last file", job.Step)
		if job.Step.Operation == toolpath.Shoulders {
			continue
		}
		exchanged := append([]Program{files[1], files[0]}, files[2:]...)
		assert.NotEmpty(t, found(p, job, exchanged), "%v with its first two files exchanged", job.Step)
	}
	for _, o := range []toolpath.Operation{toolpath.Fullers, toolpath.Shoulders, toolpath.Outline, toolpath.Slot} {
		assert.True(t, tried[o], o)
	}
}

// found returns what the proof of files, one after another, finds.
func found(p planned, job *toolpath.Job, read []Program) []proof.Finding {
	state := toolpath.NewBarState(p.blade, p.shop, 3)
	var proofs []toolpath.FaceProof
	for _, program := range read[:len(read)-1] {
		proofs = append(proofs, state.ProvePart(job.Step, job.Setup, job.Cutter, program.Motions))
	}
	return state.Prove(job.Step, job.Setup, job.Cutter, job.Cusp, read[len(read)-1].Motions).After(proofs...).Judged.Findings
}
