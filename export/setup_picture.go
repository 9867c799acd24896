package export

import (
	"fmt"
	"math"

	"fullerwright/export/sheet"
	"fullerwright/profile/geom"
	"fullerwright/toolpath"
	"fullerwright/toolpath/motion"
)

// Looks of the picture of the bar in the vise: the bar pale as ground steel, jaws and
// stop hatched, what the cutter takes in the amber of the proof's pictures.
const (
	barFill, jawFill, cutFill = "#eef2f5", "#d8dde2", "#eba43f"

	pictureSide     = 18.5 // beside the bar, for the stop and the name of its corner, mm on paper
	jawDeep         = 8    // of a jaw, mm on paper
	pictureRow      = 5.7  // a row of words
	barHighest      = 28   // the tallest a bar is drawn, mm on paper
	pictureChord    = 0.1  // of the blade's outline, mm
	thinnestCutDraw = 0.3  // half the width of the finest cut drawn, mm on paper
)

var steelPen, bladePen, touchPen = sheet.Pen{Width: 0.4}, sheet.Pen{Width: 0.18}, sheet.Pen{Width: 0.25, Dash: []float64{2, 1.2}}

// topView draws a setup as the operator sees it from above, in the work frame.
type topView struct {
	sheet  SetupSheet
	job    *toolpath.Job
	units  units
	ruler  func(string) float64
	scale  float64
	origin geom.Point // on paper, of the work frame
	box    sheet.Box
}

// height returns how tall the picture is, mm.
func (v topView) height(width float64) float64 {
	return v.job.Setup.Width*v.scaleFor(width) + 2*jawDeep + 4*pictureRow + 4
}

func (v topView) scaleFor(width float64) float64 {
	return math.Min((width-2*pictureSide)/v.job.Setup.Length, barHighest/v.job.Setup.Width)
}

func (v topView) at(x, y float64) geom.Point {
	return geom.Point{X: v.origin.X + x*v.scale, Y: v.origin.Y + y*v.scale}
}

// box returns a box of the work frame on paper.
func (v topView) boxOf(x0, y0, x1, y1 float64) sheet.Box {
	a, b := v.at(x0, y0), v.at(x1, y1)
	return sheet.Box{MinX: a.X, MinY: a.Y, MaxX: b.X, MaxY: b.Y}
}

func (v topView) draw(s *sheet.Sheet, box sheet.Box) {
	v.box = box
	width := box.MaxX - box.MinX
	v.scale = v.scaleFor(width)
	setup := v.job.Setup
	v.origin = geom.Point{X: box.MinX + (width-setup.Length*v.scale)/2, Y: box.MaxY - pictureRow - jawDeep - 1}
	v.drawHolding(s)
	bar := v.boxOf(0, -setup.Width, setup.Length, 0)
	s.Add("bar", "the bar", sheet.Filled(barFill, bar))
	v.drawCut(s)
	if !setup.Blank {
		var outline []geom.Point
		for _, p := range v.sheet.Blade.Outline.Sample(pictureChord) {
			w := setup.Placement.Work(motion.Vec{X: p.X, Y: p.Y})
			outline = append(outline, v.at(w.X, w.Y))
		}
		s.Add("bar", "the bar", sheet.Polyline(bladePen, append(outline, outline[0])))
	}
	s.Add("bar", "the bar", sheet.Rectangle(steelPen, bar.MinX, bar.MinY, bar.MaxX-bar.MinX, bar.MaxY-bar.MinY))
	v.drawZeros(s)
	v.drawWords(s)
}

func (v topView) hatched(s *sheet.Sheet, b sheet.Box) {
	s.Add("vise", "what holds the bar", sheet.Filled(jawFill, b), sheet.Hatch(sheet.Pen{Width: 0.12}, b, 1.6),
		sheet.Rectangle(sheet.Pen{Width: 0.25}, b.MinX, b.MinY, b.MaxX-b.MinX, b.MaxY-b.MinY))
}

// drawHolding draws jaws and stop, or the clamps on a plate.
func (v topView) drawHolding(s *sheet.Sheet) {
	setup := v.job.Setup
	top, low := v.at(0, 0).Y, v.at(0, -setup.Width).Y
	if setup.Plate {
		const clamp = 9
		for _, x := range []float64{v.at(0, 0).X - clamp, v.at(setup.Length, 0).X} {
			v.hatched(s, sheet.Box{MinX: x, MaxX: x + clamp, MinY: low + (top-low)*0.2, MaxY: top - (top-low)*0.2})
		}
		return
	}
	jaws := v.job.JawSpan(v.sheet.Shop.Vise)
	from, to := v.at(jaws.From, 0).X, v.at(jaws.To, 0).X
	for _, j := range []struct {
		y    float64
		name string
	}{{top, "fixed jaw"}, {low - jawDeep, "moving jaw"}} {
		b := sheet.Box{MinX: from, MaxX: to, MinY: j.y, MaxY: j.y + jawDeep}
		v.hatched(s, b)
		half := v.ruler(j.name)/2 + 1.5
		if to-from > 2*half {
			middle := (from + to) / 2
			s.Add("vise", "what holds the bar", sheet.Filled("#ffffff", sheet.Box{MinX: middle - half, MaxX: middle + half, MinY: j.y + 1, MaxY: j.y + jawDeep - 1}))
			s.Add("labels", "words on the picture", sheet.Text{At: geom.Point{X: middle, Y: j.y + 2.4}, Height: setupLetter, Anchor: sheet.Middle, Content: j.name})
		}
	}
	const stop = 4
	middle := (top + low) / 2
	left := v.at(0, 0).X
	v.hatched(s, sheet.Box{MinX: left - stop, MaxX: left, MinY: middle - 4, MaxY: middle + 4})
	s.Add("labels", "words on the picture", sheet.Text{At: geom.Point{X: left - stop - 1.5, Y: middle - 1.7}, Height: setupLetter, Anchor: sheet.End, Content: "stop"})
}

// drawZeros marks where X, Y and Z are zero.
func (v topView) drawZeros(s *sheet.Sheet) {
	corner := v.at(0, 0)
	s.Add("zero", "where zero is", sheet.Circle(sheet.Pen{Width: 0.5}, corner, 1.8),
		sheet.Line(sheet.Pen{Width: 0.3}, corner.X-3.4, corner.Y, corner.X+3.4, corner.Y),
		sheet.Line(sheet.Pen{Width: 0.3}, corner.X, corner.Y-3.4, corner.X, corner.Y+3.4),
		sheet.Text{At: geom.Point{X: corner.X - 4.2, Y: corner.Y + 1}, Height: setupLetter, Anchor: sheet.End, Bold: true, Content: "X0 Y0"})
	if v.job.Setup.Blank {
		return
	}
	x := v.touchX()
	s.Add("zero", "where zero is", sheet.Line(touchPen, v.at(x, 0).X, v.at(x, -v.job.Setup.Width).Y, v.at(x, 0).X, v.at(x, 0).Y))
}

func (v topView) touchX() float64 {
	return v.job.Setup.Placement.Work(motion.Vec{X: v.job.Setup.TouchX}).X
}

// drawWords writes the rows over and under the picture.
func (v topView) drawWords(s *sheet.Sheet) {
	setup := v.job.Setup
	low := v.at(0, -setup.Width).Y - jawDeep
	row := func(n int) float64 { return low - float64(n)*pictureRow - 5 }
	between := func(x, y float64, least, most float64, text string) {
		half := v.ruler(text) / 2
		x = math.Max(least+half, math.Min(most-half, x))
		s.Add("labels", "words on the picture", sheet.Text{At: geom.Point{X: x, Y: y}, Height: setupLetter, Anchor: sheet.Middle, Content: text})
	}
	left, right := v.endWords()
	least, most := v.at(0, 0).X, v.at(setup.Length, 0).X
	between(least, row(0), least, most, left)
	between(most, row(0), least, most, right)
	if !setup.Blank {
		between(v.at(v.touchX(), 0).X, row(0), least+v.ruler(left)+4, most-v.ruler(right)-4, "Z0 at X "+v.units.length(v.touchX()))
	}
	cut := v.job.Cut()
	between(v.at((cut.From+cut.To)/2, 0).X, row(1), v.box.MinX, v.box.MaxX, v.sayCut(cut))
	between((v.box.MinX+v.box.MaxX)/2, row(2), v.box.MinX, v.box.MaxX, "you stand here")
	v.overhang(s)
}

func (v topView) sayCut(cut toolpath.Span) string {
	from, to := v.units.length(cut.From), v.units.length(cut.To)
	if from == to {
		return "cut: tip at X " + from
	}
	return fmt.Sprintf("cut: tip from X %s to X %s", from, to)
}

// endWords names the ends of the piece as the operator sees them, left and right.
func (v topView) endWords() (left, right string) {
	switch {
	case v.job.Setup.Blank:
		return "", ""
	case v.job.Setup.PointLies() == "left":
		return "point end", "tang end"
	}
	return "tang end", "point end"
}

// overhang writes over the bar how far it stands out of the jaws, where there is room.
func (v topView) overhang(s *sheet.Sheet) {
	setup := v.job.Setup
	if setup.Plate {
		return
	}
	jaws := v.job.JawSpan(v.sheet.Shop.Vise)
	y := v.at(0, 0).Y + 3.4
	for _, out := range []toolpath.Span{{From: 0, To: jaws.From}, {From: jaws.To, To: setup.Length}} {
		text := "out " + v.units.short(out.To-out.From)
		from, to := v.at(out.From, 0).X, v.at(out.To, 0).X
		room := v.ruler(text) + 6
		if to-from < room {
			continue
		}
		middle := (from + to) / 2
		s.Add("labels", "words on the picture", sheet.Text{At: geom.Point{X: middle, Y: y + 1.2}, Height: setupLetter, Anchor: sheet.Middle, Content: text})
		s.Add("zero", "where zero is", sheet.Line(sheet.Pen{Width: 0.2}, math.Max(from, v.origin.X+4), y, to-0.8, y))
	}
}

// drawCut fills what the cutter goes over below the top face.
func (v topView) drawCut(s *sheet.Sheet) {
	for _, w := range sweptStretches(v.job) {
		half := math.Max(w.half*v.scale, thinnestCutDraw)
		s.Add("cut", "what is cut", capsule(v.at(w.a.X, w.a.Y), v.at(w.b.X, w.b.Y), half))
	}
}

// stretch is a straight stretch of a cut in plan and half its width, mm.
type stretch struct {
	a, b geom.Point
	half float64
}

// sweptStretches returns the cuts of a job in plan, each place once with the widest cut
// over it.
func sweptStretches(j *toolpath.Job) []stretch {
	var out []stretch
	index := map[[4]float64]int{}
	var at motion.Vec
	for _, m := range j.Moves {
		depth := -math.Min(at.Z, m.To.Z)
		if m.Kind != motion.Rapid && depth > 0 {
			points := planOfMove(at, m)
			for i := 1; i < len(points); i++ {
				a, b := points[i-1], points[i]
				key := [4]float64{a.X, a.Y, b.X, b.Y}
				half := cutHalf(j.Cutter, depth)
				if k, seen := index[key]; seen {
					out[k].half = math.Max(out[k].half, half)
					continue
				}
				index[key] = len(out)
				out = append(out, stretch{a, b, half})
			}
		}
		at = m.To
	}
	return out
}

// cutHalf returns half the width of what a cutter leaves at a depth.
func cutHalf(c toolpath.Cutter, depth float64) float64 {
	if c.End == toolpath.BallEnd {
		return toolpath.TouchWidth(c.Radius(), depth) / 2
	}
	return c.Radius()
}

// planOfMove returns the points of a move in plan, arcs in chords for the eye.
func planOfMove(from motion.Vec, m toolpath.Move) []geom.Point {
	n := 1
	if m.Kind == motion.Arc {
		n = 1 + int(math.Abs(m.Sweep)/(math.Pi/24))
	}
	whole := motion.Motion{Kind: m.Kind, From: from, To: m.To, Plane: m.Plane, Centre: m.Centre, Sweep: m.Sweep}
	out := make([]geom.Point, n+1)
	for i := range out {
		p := whole.At(float64(i) / float64(n))
		out[i] = geom.Point{X: p.X, Y: p.Y}
	}
	return out
}

// capsule returns a filled stretch with round ends.
func capsule(a, b geom.Point, half float64) sheet.Path {
	span := math.Hypot(b.X-a.X, b.Y-a.Y)
	if span < 1e-9 {
		dot := sheet.Circle(sheet.Pen{}, a, half)
		dot.Fill = cutFill
		return dot
	}
	nx, ny := -(b.Y-a.Y)/span*half, (b.X-a.X)/span*half
	turn := geom.Angle(math.Atan2(ny, nx))
	p := sheet.Path{Fill: cutFill}
	p.Pieces = []geom.Piece{
		geom.Arc{Centre: a, Radius: half, From: turn, Sweep: 180 * geom.Degree},
		geom.Line{From: geom.Point{X: a.X - nx, Y: a.Y - ny}, To: geom.Point{X: b.X - nx, Y: b.Y - ny}},
		geom.Arc{Centre: b, Radius: half, From: turn + 180*geom.Degree, Sweep: 180 * geom.Degree},
		geom.Line{From: geom.Point{X: b.X + nx, Y: b.Y + ny}, To: geom.Point{X: a.X + nx, Y: a.Y + ny}},
	}
	return p
}

// proofMapTall is the tallest a map of the proof is drawn, mm on paper.
const proofMapTall = 24

// proofView draws how far the proved cut lies from the design.
type proofView struct {
	sheet SetupSheet
	step  SetupStep
}

func (v proofView) deviation(width float64) deviation {
	p, shop := v.step.Proof, v.sheet.Shop
	leftover := v.step.Job.Cusp + shop.Limits.Leftover
	if v.step.unfinished() {
		leftover = math.Max(leftover, p.Judged.Leftover.Value)
	}
	return newDeviation(p, shop.Limits.Gouge, leftover, width, proofMapTall)
}

func (v proofView) height(width float64) float64 {
	d := v.deviation(width)
	_, tall := d.size()
	return tall*d.scale + 3
}

func (v proofView) draw(s *sheet.Sheet, box sheet.Box) {
	d := v.deviation(box.MaxX - box.MinX)
	length, _ := d.size()
	d.corner = geom.Point{X: (box.MinX + box.MaxX - length*d.scale) / 2, Y: box.MinY + 2}
	d.drawMap(s)
}
