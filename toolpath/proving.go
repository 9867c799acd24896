package toolpath

import (
	"fmt"
	"math"
	"slices"

	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/toolpath/cutting"
	"fullerwright/toolpath/motion"
	"fullerwright/toolpath/proof"
)

// FaceProof is the proof of one face: what its program, read back from the text, did
// to the simulated bar.
type FaceProof struct {
	Step     Step
	Map      *proof.Map
	Target   proof.Target
	Blocks   []proof.Block
	Judged   proof.Judgement
	Stations []StationProof
	Seconds  float64 // at the machine, from the motions read
}

// StationProof compares the groove that was cut with the parameters, at one station.
type StationProof struct {
	Fuller                   int
	X                        float64
	Depth, Width             float64 // as cut, from the bar's face
	DesignDepth, DesignWidth float64
}

// coarsestStep is the widest grid a face is looked at with, mm.
const coarsestStep = 0.1

// gridMargin is how far around the design the bar is looked at, mm.
const gridMargin = 4

// ProofGrid returns the grid on which both faces of a blade are proved, and the bound
// on what it may hide. The bound is a quarter of the tolerance on gouges or less.
func ProofGrid(b profile.Blade, shop Shop, smallest float64) (proof.Grid, float64) {
	lean := math.Max(b.SteepestWall(profile.Right), b.SteepestWall(profile.Left))
	step := proof.StepFor(shop.Limits.Gouge/4, smallest, lean, coarsestStep)
	box := proof.Box{MinX: math.Inf(1), MinY: math.Inf(1), MaxX: math.Inf(-1), MaxY: math.Inf(-1)}
	for _, face := range profile.Faces() {
		if least, most, ok := b.FullerSurface(face).Bounds(); ok {
			box = box.Join(proof.Box{MinX: least.X - gridMargin, MinY: least.Y - gridMargin, MaxX: most.X + gridMargin, MaxY: most.Y + gridMargin})
		}
	}
	if math.IsInf(box.MinX, 1) { // no fuller, and nothing of the grid is looked at
		box = proof.Box{}
	}
	box.MinX, box.MaxX = math.Max(box.MinX, b.Bar.Butt), math.Min(box.MaxX, b.Bar.Front)
	box.MinY, box.MaxY = math.Max(box.MinY, b.Bar.Bottom), math.Min(box.MaxY, b.Bar.Top)
	grid := proof.GridOver(box, step)
	return grid, grid.Bound(smallest, lean)
}

// CutterOf returns a cutter of the drawer as the proof sees it.
func CutterOf(c Cutter) proof.Cutter {
	out := proof.Cutter{Square: c.End == SquareEnd, Radius: c.Radius(), CornerRadius: c.CornerRadius, Flutes: c.Flutes, FluteLength: c.FluteLength,
		ShankRadius: c.ShankDiameter / 2, StickOut: c.StickOut, HolderRadius: c.HolderRadius}
	if c.End == DrillEnd {
		out.PointAngle = c.PointAngle.Radians()
	}
	return out
}

// BarState is the simulated bar on its way through the sequence of operations: both
// faces, on one grid, as the programs so far have left them.
type BarState struct {
	blade profile.Blade
	shop  Shop
	bound float64
	faces map[profile.Face]*proof.Map // on the grid of the fullers
	watch func(done, all int)         // nil for nobody
	done  []passed

	// A step that takes several programs: those that have cut for it so far, and whether
	// others go on after the one at hand.
	open       []passed
	openFor    Step
	unfinished bool
}

// passed is a program that has cut the bar.
type passed struct {
	setup   Setup
	cutter  Cutter
	motions []motion.Motion
}

// NewBarState returns the bar before the first operation, on a grid fine enough for
// the smallest cutter that will mill it.
func NewBarState(b profile.Blade, shop Shop, smallest float64) *BarState {
	grid, bound := ProofGrid(b, shop, smallest)
	s := &BarState{blade: b, shop: shop, bound: bound, faces: map[profile.Face]*proof.Map{}}
	for _, face := range profile.Faces() {
		s.faces[face] = mapOf(b, grid, face)
	}
	return s
}

// mapOf returns a face of the bar as it is before the first program: with what is milled
// already.
func mapOf(b profile.Blade, grid proof.Grid, face profile.Face) *proof.Map {
	m := proof.NewMap(grid, b.Stock())
	if b.FullersMilled(face) {
		m.Lower(b.AsMilled(face))
	}
	return m
}

// Watch has a function told how far each cut of the program at hand is, in parts of all;
// see proof.Map.
func (s *BarState) Watch(f func(done, all int)) { s.watch = f }

// Prove cuts the bar with the motions of one program and judges what is left against the
// design, which is evaluated from the parameters alone. The cusp is the ridge allowed
// between the lanes of a fuller.
func (s *BarState) Prove(step Step, setup Setup, cutter Cutter, cusp float64, motions []motion.Motion) FaceProof {
	var p FaceProof
	s.begin(step)
	switch step.Operation {
	case Shoulders:
		p = s.proveShoulder(setup, cutter, motions)
	case Holes:
		p = s.proveHoles(step, setup, cutter, motions)
	case Marks:
		p = s.proveMark(setup, cutter, motions)
	case Outline:
		p = s.proveOutline(setup, cutter, motions)
	case Slot:
		setup = s.blankSetup()
		if step.Bore > 0 {
			p = s.proveSlotDrill(step, cutter, motions)
		} else {
			p = s.proveSlot(cutter, motions)
		}
	default:
		p = s.proveFullers(setup, cutter, cusp, motions)
	}
	if s.unfinished || len(s.open) > 0 {
		p.Judged.Findings = slices.DeleteFunc(p.Judged.Findings, func(f proof.Finding) bool { return f.Kind == proof.Air })
	}
	p.Step = step
	p.Seconds = secondsOf(motions, s.shop.Machine)
	s.pass(passed{setup, cutter, motions})
	return p
}

// maps returns both faces on a grid as the programs so far have left them.
func (s *BarState) maps(grid proof.Grid) map[profile.Face]*proof.Map {
	out := map[profile.Face]*proof.Map{}
	for _, face := range profile.Faces() {
		out[face] = mapOf(s.blade, grid, face)
	}
	for _, d := range s.done {
		if d.setup.Blank {
			continue // the guard's, no part of the bar
		}
		out[d.setup.Face].Cut(d.setup.Placement, CutterOf(d.cutter), d.motions)
	}
	proof.CutThrough(out[profile.Right], out[profile.Left])
	for _, m := range out {
		m.Settle()
	}
	return out
}

// targeted is a target with the place where it is looked at.
type targeted struct {
	proof.Target
	box    proof.Box
	step   float64 // of the grid, mm; 0 for coarsestStep
	bound  float64 // on what hides between its nodes, mm
	limits proof.Limits
}

// judge cuts the face that is up on a grid of its own and compares it with a target whose
// floors are level: nothing hides between the nodes of those.
func (s *BarState) judge(t targeted, setup Setup, cutter Cutter, motions []motion.Motion) FaceProof {
	bar := s.blade.Bar
	t.box.MinX, t.box.MaxX = math.Max(t.box.MinX, bar.Butt), math.Min(t.box.MaxX, bar.Front)
	t.box.MinY, t.box.MaxY = math.Max(t.box.MinY, bar.Bottom), math.Min(t.box.MaxY, bar.Top)
	if t.step == 0 {
		t.step = coarsestStep
	}
	return s.judgeOn(s.maps(proof.GridOver(t.box, t.step))[setup.Face], t, setup, cutter, motions)
}

// tolerance is how far a cut may lie from the design, with the ridge that is allowed.
func (s *BarState) tolerance(cusp float64) proof.Tolerance {
	if s.unfinished {
		cusp = math.Inf(1)
	}
	return proof.Tolerance{Gouge: s.shop.Limits.Gouge, Leftover: cusp + s.shop.Limits.Leftover}
}

// judgeOn is judge on a face as it stands.
func (s *BarState) judgeOn(m *proof.Map, t targeted, setup Setup, cutter Cutter, motions []motion.Motion) FaceProof {
	p := FaceProof{Map: m, Target: t.Target}
	s.goOn(m, setup.Placement)
	p.Map.Watch = s.watch
	p.Blocks = p.Map.Cut(setup.Placement, CutterOf(cutter), motions)
	p.Judged = proof.Judge(p.Map, t.Target, p.Blocks, s.tolerance(0), t.limits, CutterOf(cutter), t.bound)
	return p
}

// surface is a height by a function.
type surface func(x, y float64) float64

// Height returns the height of the surface.
func (f surface) Height(x, y float64) float64 { return f(x, y) }

func wallsOf(walls []profile.Wall) []proof.Wall {
	out := make([]proof.Wall, len(walls))
	for i, w := range walls {
		out[i] = proof.Wall{X: w.At.X, Y: w.At.Y, AwayX: w.Away.X, AwayY: w.Away.Y, Height: w.Height}
	}
	return out
}

// unjudged returns the proof of a program for which the design itself cannot be made.
func unjudged(kind, message string) FaceProof {
	return FaceProof{Judged: proof.Judgement{Findings: []proof.Finding{{Kind: kind, Message: message}}}}
}

// proveShoulder judges a shoulder with the corners that the cutter leaves.
func (s *BarState) proveShoulder(setup Setup, cutter Cutter, motions []motion.Motion) FaceProof {
	radius := cutter.Radius()
	cut, err := s.blade.ShoulderCut(math.Max(s.blade.Knife.Tang.CornerRadius, radius))
	if err != nil {
		return unjudged("corner", err.Error())
	}
	setup.Jaws = jawsBeyond(s.blade.Bar, s.shop, cut.Plane+radius+jawRoom)
	t := targeted{limits: proofLimits(s.blade, s.shop, setup, cutter)}
	t.limits.Beside, t.limits.SteepCut = besideBar+proofRoom, proofRoom
	t.limits.Floor = -highestFace(s.blade.Bar) - breakThrough - cutter.CornerRadius - proofRoom
	through := setup.Face == profile.Right
	t.Target = proof.Target{Low: surface(cut.Low(through)), High: surface(cut.High(cutter.CornerRadius)),
		Walls: wallsOf(cut.Walls(through, cutter.CornerRadius))}
	t.box = proof.Box{MinX: cut.Back - 2*radius, MaxX: cut.Plane + gridMargin, MinY: s.blade.Bar.Bottom, MaxY: s.blade.Bar.Top}
	return s.judge(t, setup, cutter, motions)
}

// proveHoles judges the holes of one diameter.
func (s *BarState) proveHoles(step Step, setup Setup, cutter Cutter, motions []motion.Motion) FaceProof {
	holes := holesOf(s.blade, step)
	if len(holes) == 0 {
		return unjudged("hole", fmt.Sprintf("the knife has no hole of %.2f mm to be drilled from its %s face: name the right knife", step.Bore, step.Face))
	}
	t := targeted{limits: proofLimits(s.blade, s.shop, setup, cutter)}
	drillLimits(&t.limits, cutter)
	t.limits.Floor = -highestFace(s.blade.Bar) - breakThrough - cutter.pointHeight() - proofRoom
	t.Target = proof.Target{Low: surface(s.blade.HoleSurface(holes, cutter.PointAngle)), Walls: wallsOf(s.blade.HoleWalls(holes))}
	t.box = proof.Box{MinX: math.Inf(1), MinY: math.Inf(1), MaxX: math.Inf(-1), MaxY: math.Inf(-1)}
	for _, i := range holes {
		p, reach := s.blade.Knife.Holes[i].Place(), step.Bore/2+gridMargin
		t.box = t.box.Join(proof.Box{MinX: p.X - reach, MinY: p.Y - reach, MaxX: p.X + reach, MaxY: p.Y + reach})
	}
	return s.judge(t, setup, cutter, motions)
}

// outlineStep is the grid on which the outline is looked at, mm: its bottom is level and
// its walls are looked at one by one.
const outlineStep = 0.25

// proveOutline judges the rough profile.
func (s *BarState) proveOutline(setup Setup, cutter Cutter, motions []motion.Motion) FaceProof {
	cut, err := s.blade.OutlineCut(cutter.Radius(), cutter.CornerRadius)
	if err != nil {
		return unjudged("outline", err.Error())
	}
	setup.Plate = true
	t := targeted{step: outlineStep, limits: proofLimits(s.blade, s.shop, setup, cutter)}
	bottom, below := cut.Bottom()
	deepest := bottom
	if below {
		deepest -= breakThrough + cutter.CornerRadius
	}
	tab := tabLength(cut, s.shop.ramp(), deepest)
	t.limits.SteepCut, t.limits.Beside, t.limits.Floor = proofRoom, 2*cutter.Radius(), deepest-proofRoom
	t.limits.JawTop = math.Inf(-1)
	t.Target = proof.Target{Low: surface(cut.Low(tab)), Walls: wallsOf(cut.Walls(tab))}
	bar := s.blade.Bar
	t.box = proof.Box{MinX: bar.Butt, MaxX: bar.Front, MinY: bar.Bottom, MaxY: bar.Top}
	return s.judge(t, setup, cutter, motions)
}

// proveMark judges the mark of a face: the floors of its lines, and that nothing else is
// touched.
func (s *BarState) proveMark(setup Setup, cutter Cutter, motions []motion.Motion) FaceProof {
	cut, err := s.blade.MarkCut(setup.Face)
	if err != nil {
		return unjudged("mark", err.Error())
	}
	t := targeted{limits: proofLimits(s.blade, s.shop, setup, cutter), Target: proof.Target{Low: surface(cut.Low())}}
	t.limits.SteepCut = proofRoom
	box, around := cut.Bounds(), markEdge+cut.Radius
	t.box = proof.Box{MinX: box.Min.X - around, MinY: box.Min.Y - around, MaxX: box.Max.X + around, MaxY: box.Max.Y + around}
	lean := math.Asin(profile.MarkShare)
	t.step = proof.StepFor(s.shop.Limits.Gouge/4, cut.Radius, lean, coarsestStep)
	t.bound = proof.GridOver(t.box, t.step).Bound(cut.Radius, lean)
	return s.judge(t, setup, cutter, motions)
}

// proveSlot cuts the guard's blank, which is no part of the bar.
func (s *BarState) proveSlot(cutter Cutter, motions []motion.Motion) FaceProof {
	slot, has := s.blade.GuardSlot(cutter.Radius())
	if !has {
		return noGuard()
	}
	t := targeted{Target: proof.Target{Low: surface(slot.Low), Walls: wallsOf(slot.Walls())}, limits: s.blankLimits(slot, cutter)}
	t.limits.Floor = -slot.Thickness/2 - breakThrough - cutter.CornerRadius - proofRoom
	return s.judgeOn(s.blank(slot), t, slotSetup(slot), cutter, motions)
}

func noGuard() FaceProof {
	return unjudged("guard", "the knife has no guard: name the right knife")
}

// blankSetup returns how the guard's blank is clamped, whatever was said of the bar.
func (s *BarState) blankSetup() Setup {
	slot, has := s.blade.GuardSlot(0)
	if !has {
		return Setup{Blank: true}
	}
	return slotSetup(slot)
}

// blank returns the guard's blank as the programs so far have left it.
func (s *BarState) blank(slot profile.GuardSlot) *proof.Map {
	half := geom.Point{X: slot.BlankLength / 2, Y: slot.BlankWidth / 2}
	grid := proof.GridOver(proof.Box{MinX: -half.X, MinY: -half.Y, MaxX: half.X, MaxY: half.Y}, coarsestStep)
	m := proof.NewMap(grid, PlainBar{Length: slot.BlankLength, Width: slot.BlankWidth, Thickness: slot.Thickness})
	for _, d := range s.done {
		if d.setup.Blank {
			m.Cut(d.setup.Placement, CutterOf(d.cutter), d.motions)
		}
	}
	m.Settle()
	return m
}

// blankLimits returns the limits of a program in the guard's blank.
func (s *BarState) blankLimits(slot profile.GuardSlot, cutter Cutter) proof.Limits {
	top, half := slot.Thickness/2, geom.Point{X: slot.BlankLength / 2, Y: slot.BlankWidth / 2}
	data, err := s.shop.guardData(s.blade)
	return proof.Limits{Span: s.shop.Machine.travel(), Feed: s.shop.Machine.FeedMost, FeedPerTooth: chipMost(data, err, cutter), RampSlope: rampRounding * math.Tan(s.shop.Limits.Ramp.Radians()),
		SteepCut: proofRoom, BarTop: top, JawTop: top - s.shop.StandOf(slot.Thickness).Above, HighestTip: top + s.shop.Work.Clearance,
		FixedJaw: half.Y, MovingJaw: -half.Y, LeastX: -half.X, MostX: half.X}
}

// proofRoom is how far beyond what a plan allows the proof does not mind, mm.
const proofRoom = 0.01

// proveFullers judges the fullers of a face.
func (s *BarState) proveFullers(setup Setup, cutter Cutter, cusp float64, motions []motion.Motion) FaceProof {
	if len(s.blade.Grooves(setup.Face)) == 0 {
		return unjudged("fuller", fmt.Sprintf("the knife has no fuller in its %s face: name the right knife", setup.Face))
	}
	target := proof.Exactly(s.blade.FullerSurface(setup.Face))
	p := FaceProof{Map: s.faces[setup.Face], Target: target}
	if len(s.open) > 0 {
		clear(p.Map.Line)
	}
	p.Map.Watch = s.watch
	p.Blocks = p.Map.Cut(setup.Placement, CutterOf(cutter), motions)
	limits := proofLimits(s.blade, s.shop, setup, cutter)
	limits.Beside = besideForFullers(s.blade)
	p.Judged = proof.Judge(p.Map, target, p.Blocks, s.tolerance(cusp), limits, CutterOf(cutter), s.bound)
	p.Stations = stationsOf(s.blade, p.Map, setup.Face)
	return p
}

// JudgeFaces lays the two faces on each other as they are now: the least steel between
// them, and how far they differ in height and in place from what the designs say.
func (s *BarState) JudgeFaces() proof.FacesJudgement {
	designs := proof.Faces{Right: s.blade.FullerSurface(profile.Right), Left: s.blade.FullerSurface(profile.Left)}
	var places []proof.Place
	for i, f := range s.blade.Fullers {
		if !f.Size.Cut(profile.Right) || !f.Size.Cut(profile.Left) {
			continue
		}
		for _, section := range s.blade.Sections(i, 5) {
			at, _ := f.Milled.Place(f.Milled.AtX(section.X))
			places = append(places, proof.Place{X: section.X, Y: at.Y})
		}
	}
	return proof.JudgeFaces(s.faces[profile.Right], s.faces[profile.Left], designs, proof.Tolerance{Web: s.shop.Limits.Web}, places...)
}

// steepStocks is how many finishing stocks a steep way down may take off: on the walls
// the stock stands upright at more than its thickness, with a ridge of roughing on it.
const steepStocks = 4

// chipMost returns the greatest feed per tooth of a cutter in what it is to cut, mm; where
// there are no data for that, the one for its diameter in carbon steel.
func chipMost(data cutting.Data, err error, c Cutter) float64 {
	if err != nil {
		_, _, most := cutting.FeedPerTooth(c.Diameter)
		return most
	}
	return data.FeedPerTooth(c.tool()).Most
}

// drillLimits lets a drill go straight down, at up to twice the feed for a turn that drills
// are given.
func drillLimits(l *proof.Limits, c Cutter) {
	l.RampSlope, l.FeedPerTooth = math.Inf(1), drillFeedMost*c.Diameter/float64(max(1, c.Flutes))
}

func proofLimits(b profile.Blade, shop Shop, setup Setup, cutter Cutter) proof.Limits {
	high := highestFace(b.Bar)
	data, err := shop.steelData(b)
	return proof.Limits{
		Span: shop.Machine.travel(), Feed: shop.Machine.FeedMost, FeedPerTooth: chipMost(data, err, cutter), RampSlope: rampRounding * math.Tan(shop.Limits.Ramp.Radians()), SteepCut: steepStocks * shop.Work.FinishStock,
		BarTop: high, JawTop: setup.Top - shop.StandOf(2*setup.Top).Above,
		HighestTip: high + shop.Work.Clearance,
		Jaws:       setup.Jaws, FixedJaw: b.Bar.Top, MovingJaw: b.Bar.Bottom, LeastX: b.Bar.Butt, MostX: b.Bar.Front,
	}
}

// stationsOf measures each fuller of a face at five stations.
func stationsOf(b profile.Blade, m *proof.Map, face profile.Face) []StationProof {
	var out []StationProof
	b = b.On(face)
	for i, f := range b.Fullers {
		if !f.Size.Cut(face) {
			continue
		}
		for _, s := range b.Sections(i, 5) {
			at, _ := f.Milled.Place(f.Milled.AtX(s.X))
			cut, ok := m.SectionAt(s.X, at.Y)
			if !ok {
				continue
			}
			// The map is read at its nearest column; so is the design.
			exact := b.SectionAt(i, cut.X)
			out = append(out, StationProof{Fuller: i + 1, X: cut.X, Depth: cut.Depth, Width: cut.Width,
				DesignDepth: exact.MilledDepth, DesignWidth: exact.BarWidth})
		}
	}
	return out
}

// PlainBar is a bar of which nothing is known but its size, mm.
type PlainBar struct{ Length, Width, Thickness float64 }

// Height returns half the thickness: the face's height over the centre-plane.
func (b PlainBar) Height(float64, float64) float64 { return b.Thickness / 2 }

// DescribeCut cuts a plain bar with the motions of a program, as they stand in the work
// frame, and judges how they run. There is no design to compare with.
func DescribeCut(shop Shop, bar PlainBar, face profile.Face, cutter Cutter, motions []motion.Motion) FaceProof {
	high := bar.Thickness / 2
	box := proof.Box{MinX: 0, MinY: -bar.Width, MaxX: bar.Length, MaxY: 0}
	p := FaceProof{Step: Step{Operation: Fullers, Face: face}, Map: proof.NewMap(proof.GridOver(box, coarsestStep), bar)}
	placement := motion.Placement{SignX: 1, SignY: 1, Z0: -high}
	p.Blocks = p.Map.Cut(placement, CutterOf(cutter), motions)
	_, _, perTooth := cutting.FeedPerTooth(cutter.Diameter)
	limits := proof.Limits{Span: shop.Machine.travel(), Feed: shop.Machine.FeedMost, FeedPerTooth: perTooth, RampSlope: rampRounding * math.Tan(shop.Limits.Ramp.Radians()), SteepCut: steepStocks * shop.Work.FinishStock,
		Beside: profile.BeyondBar + proofRoom, BarTop: high, JawTop: high - shop.StandOf(2*high).Above, FixedJaw: 0, MovingJaw: -bar.Width, MostX: bar.Length}
	if cutter.End == DrillEnd {
		drillLimits(&limits, cutter)
	}
	p.Judged = proof.Describe(p.Map, p.Blocks, limits, CutterOf(cutter))
	p.Seconds = secondsOf(motions, shop.Machine)
	return p
}

// rampRounding is how much steeper than the limit a ramp may come out of the text: along
// short chords the decimals of a program make some steeper than was planned.
const rampRounding = 1.02

// travel returns how far the machine travels along its axes, mm.
func (m Machine) travel() motion.Vec { return motion.Vec{X: m.TravelX, Y: m.TravelY, Z: m.TravelZ} }
