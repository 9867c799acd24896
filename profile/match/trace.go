package match

import (
	"fmt"
	"math"
	"sort"

	"fullerwright/profile/document"
	"fullerwright/profile/geom"
)

const (
	// fewestPoints are the fewest points that tell a blade with a tang: its corners alone
	// are seven.
	fewestPoints = 12
	// mostPoints is how many points are fitted; of more, so many are taken evenly.
	mostPoints = 500
	// closing is the greatest gap between the ends of a trace that is closed for it, over
	// its extent.
	closing = 0.005
	// loop is the least part of the length of a trace between two passes of one place that
	// makes it cross itself; what is shorter is the trembling of a scan.
	loop = 0.02
	// longest is the longest stretch of a trace without a point, over its extent; longer
	// straight lines get points of their own.
	longest = 1.0 / 60
	// sameScale is by how much a trace with a unit may differ from its known length, over
	// that: what a flatbed scanner may stretch (common practice, no source).
	sameScale = 0.03
)

// ParseTrace reads a traced outline of a bare blade with its tang from a drawing: one
// closed path, polyline or polygon, curves and transforms as they come. Overall is the
// known length from the end of the tang to the point, mm, which puts the trace to scale; 0
// where it is not known and the drawing's width and height carry a unit. Every fault is
// reported at once, as document.FieldErrors.
func ParseTrace(file string, data []byte, overall float64) (Measurements, error) {
	if fault, hint := notText(data); fault != "" {
		return Measurements{}, document.FieldErrors{{File: file, Rule: fault, Hint: hint}}
	}
	runs, scale, err := readSVG(file, data)
	if err != nil {
		return Measurements{}, err
	}
	t := &trace{file: file, scale: scale, overall: overall, m: Measurements{File: file, Traced: true, Overall: overall, Unscaled: overall > 0}}
	one, ok := t.choose(runs)
	if ok {
		t.line, t.what = one.line, one.what
		t.close(&one)
		t.points = distinct(one.points)
		t.checkForm()
		t.setScale()
	}
	if len(t.faults) > 0 {
		return Measurements{}, t.faults
	}
	t.take()
	return t.m, nil
}

// trace is a traced outline while it is read.
type trace struct {
	file           string
	scale, overall float64
	line           int
	what           string
	points         []tracedPoint
	m              Measurements
	faults         document.FieldErrors
}

func (t *trace) fault(value, rule, hint string) {
	t.faults = append(t.faults, document.FieldError{File: t.file, Line: t.line, Field: t.what, Value: value, Rule: rule, Hint: hint})
}

// choose returns the largest run of the drawing. Another half as large makes it unclear
// which is meant.
func (t *trace) choose(runs []run) (run, bool) {
	if len(runs) == 0 {
		t.fault("", "there is no path, polyline or polygon in it", "trace the scan into one closed outline")
		return run{}, false
	}
	sort.SliceStable(runs, func(i, j int) bool { return extent(runs[i].points) > extent(runs[j].points) })
	if len(runs) > 1 && extent(runs[1].points) > extent(runs[0].points)/2 {
		t.line, t.what = runs[1].line, runs[1].what
		t.fault("", fmt.Sprintf("this outline is %.0f %% as large as the largest, in line %d: which of them is the knife?", 100*extent(runs[1].points)/extent(runs[0].points), runs[0].line),
			"leave only the outline of the bare blade in the file, joined into one path")
		return run{}, false
	}
	if len(runs) > 1 {
		t.m.Notes = append(t.m.Notes, fmt.Sprintf("%d smaller outlines are left out", len(runs)-1))
	}
	return runs[0], true
}

// extent returns the diagonal of the box of points.
func extent(points []tracedPoint) float64 {
	low, high := geom.Point{X: math.Inf(1), Y: math.Inf(1)}, geom.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, p := range points {
		low = geom.Point{X: math.Min(low.X, p.X), Y: math.Min(low.Y, p.Y)}
		high = geom.Point{X: math.Max(high.X, p.X), Y: math.Max(high.Y, p.Y)}
	}
	return between(low, high)
}

func between(a, b geom.Point) float64 { return math.Hypot(b.X-a.X, b.Y-a.Y) }

// close looks whether a trace ends where it begins.
func (t *trace) close(r *run) {
	first, last := r.points[0].Point, r.points[len(r.points)-1].Point
	gap := between(first, last) / math.Max(extent(r.points), 1e-300)
	switch {
	case r.closed || gap == 0:
	case gap <= closing:
		t.m.Notes = append(t.m.Notes, fmt.Sprintf("the trace was open by %.2g %% of its extent and is closed", 100*gap))
	default:
		t.fault("", fmt.Sprintf("the trace is open: its ends lie %.1f %% of its extent apart", 100*gap), "join its ends; the outline must run round the blade and its tang")
	}
}

// distinct leaves out points that repeat the one before, and the last where it repeats
// the first.
func distinct(points []tracedPoint) []tracedPoint {
	var out []tracedPoint
	least := extent(points) * 1e-9
	for _, p := range points {
		if len(out) == 0 || between(out[len(out)-1].Point, p.Point) > least {
			out = append(out, p)
		}
	}
	for len(out) > 1 && between(out[0].Point, out[len(out)-1].Point) <= least {
		out = out[:len(out)-1]
	}
	return out
}

func (t *trace) checkForm() {
	if len(t.points) < fewestPoints {
		t.fault("", fmt.Sprintf("%d points tell no knife; it takes %d at least", len(t.points), fewestPoints), "trace the outline with a point every millimetre or two")
		return
	}
	t.checkCrossing()
}

// checkCrossing looks for places that the trace passes twice with a good part of its
// length between. At most a few thousand chords are looked at.
func (t *trace) checkCrossing() {
	const most = 2000
	size := extent(t.points)
	var pieces []geom.Piece
	step := max(1, len(t.points)/most)
	var corners []geom.Point
	for i := 0; i < len(t.points); i += step {
		// At a hundred millimetres long, the geometry's own tolerances fit.
		p := t.points[i]
		corners = append(corners, geom.Point{X: p.X / size * 100, Y: p.Y / size * 100})
	}
	along := []float64{0}
	for i, p := range corners {
		q := corners[(i+1)%len(corners)]
		if p != q {
			pieces = append(pieces, geom.Line{From: p, To: q})
			along = append(along, along[len(along)-1]+between(p, q))
		}
	}
	chain, err := geom.NewChain(pieces...)
	if err != nil {
		t.fault("", "the trace does not hang together: "+err.Error(), "trace it again")
		return
	}
	whole := along[len(along)-1]
	for _, c := range chain.SelfCrossings() {
		apart := along[c.Second] - along[c.First]
		if math.Min(apart, whole-apart) > loop*whole {
			at := geom.Point{X: c.Point.X * size / 100, Y: c.Point.Y * size / 100}
			t.fault("", fmt.Sprintf("the trace crosses itself at %.4g, %.4g of the drawing", at.X, at.Y), "untangle it there, or trace the outer contour only")
			return
		}
	}
}

// setScale finds how long a unit of the drawing is.
func (t *trace) setScale() {
	if len(t.faults) > 0 {
		return
	}
	long := t.longest()
	switch {
	case t.scale == 0 && t.overall == 0:
		t.fault("", "the drawing has no unit of length, only pixels", "give the known length from the end of the tang to the point with --overall")
		return
	case t.scale > 0 && t.overall > 0:
		if ratio := long * t.scale / t.overall; math.Abs(ratio-1) > sameScale {
			t.fault("", fmt.Sprintf("the drawing's own unit makes the trace %.1f mm long, the known length is %.1f mm", long*t.scale, t.overall), offBy(ratio))
			return
		}
	}
	if t.overall > 0 {
		t.scale = t.overall / long
	}
	var both limit
	both.least, both.most = OverallLimits()
	if mm := long * t.scale; !both.holds(mm) {
		hint := "correct the unit of the drawing's width and height, or give the known length with --overall"
		if both.holds(mm*inch) && mm < both.least {
			hint = "it is 25.4 times too small: its unit is the inch, not the millimetre"
		}
		if both.holds(mm/inch) && mm > both.most {
			hint = "it is 25.4 times too large: its unit is the millimetre, not the inch"
		}
		t.fault("", fmt.Sprintf("the trace is %.1f mm long, and blade and tang together are from %g to %g mm", mm, both.least, both.most), hint)
	}
}

// OverallLimits returns between what the length of blade and tang together lies, mm.
func OverallLimits() (least, most float64) {
	limits := limitsOf()
	return limits["blade.length"].least + limits["tang.length"].least, limits["blade.length"].most + limits["tang.length"].most
}

// offBy says what a wrong scale may come from.
func offBy(ratio float64) string {
	switch {
	case math.Abs(ratio*inch-1) < sameScale:
		return "it is 25.4 times too small: its unit is the inch, or the known length is in inches"
	case math.Abs(ratio/inch-1) < sameScale:
		return "it is 25.4 times too large: its unit is the millimetre, or the known length is in millimetres"
	case math.Abs(ratio*10-1) < sameScale:
		return "it is 10 times too small: its unit is the centimetre, not the millimetre"
	case math.Abs(ratio/10-1) < sameScale:
		return "it is 10 times too large: the known length is in centimetres, or the drawing's unit is the millimetre"
	}
	return fmt.Sprintf("the two differ by a factor of %.4g; where the drawing's unit means nothing, take the unit out of its width and height", ratio)
}

// longest returns the greatest distance between two points of the trace, in its own unit:
// between the two that lie farthest along its long axis.
func (t *trace) longest() float64 {
	plain := make([]geom.Point, len(t.points))
	for i, p := range t.points {
		plain[i] = p.Point
	}
	_, angle := axisOf(plain)
	sin, cos := math.Sincos(angle)
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range plain {
		along := cos*p.X + sin*p.Y
		low, high = math.Min(low, along), math.Max(high, along)
	}
	return high - low
}

// take makes readings of the points: straight stretches without a point get some, curves
// give up those that lie closer than a fifth of the longest stretch, and at most
// mostPoints stay.
func (t *trace) take() {
	size := extent(t.points)
	var all []geom.Point
	for i, p := range t.points {
		q := t.points[(i+1)%len(t.points)]
		if !p.curved || len(all) == 0 || between(all[len(all)-1], p.Point) > longest*size/5 {
			all = append(all, p.Point)
		}
		long := between(p.Point, q.Point)
		for n, j := math.Ceil(long/(longest*size)), 1.0; j < n; j++ {
			all = append(all, geom.Point{X: p.X + (q.X-p.X)*j/n, Y: p.Y + (q.Y-p.Y)*j/n})
		}
	}
	if len(all) > mostPoints {
		t.m.Notes = append(t.m.Notes, fmt.Sprintf("of %d points %d are taken, evenly", len(all), mostPoints))
	}
	count := min(len(all), mostPoints)
	for i := range count {
		p := all[i*len(all)/count]
		t.m.Readings = append(t.m.Readings, Reading{Kind: Traced, At: geom.Point{X: p.X * t.scale, Y: -p.Y * t.scale}, Line: t.line})
	}
}
