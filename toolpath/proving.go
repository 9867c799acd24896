package toolpath

import (
	"math"

	"fullerwright/profile"
	"fullerwright/toolpath/cutting"
	"fullerwright/toolpath/motion"
	"fullerwright/toolpath/proof"
)

// FaceProof is the proof of one face: what its program, read back from the text, did
// to the simulated bar.
type FaceProof struct {
	Step     Step
	Map      *proof.Map
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
	box.MinX, box.MaxX = math.Max(box.MinX, b.Bar.Butt), math.Min(box.MaxX, b.Bar.Front)
	box.MinY, box.MaxY = math.Max(box.MinY, b.Bar.Bottom), math.Min(box.MaxY, b.Bar.Top)
	grid := proof.GridOver(box, step)
	return grid, grid.Bound(smallest, lean)
}

// CutterOf returns a cutter of the drawer as the proof sees it.
func CutterOf(c Cutter) proof.Cutter {
	return proof.Cutter{Square: c.End == SquareEnd, Radius: c.Radius(), Flutes: c.Flutes, FluteLength: c.FluteLength,
		ShankRadius: c.ShankDiameter / 2, StickOut: c.StickOut, HolderRadius: c.HolderRadius}
}

// BarState is the simulated bar on its way through the sequence of operations: both
// faces, on one grid, as the programs so far have left them.
type BarState struct {
	blade profile.Blade
	shop  Shop
	bound float64
	faces map[profile.Face]*proof.Map
}

// NewBarState returns the bar before the first operation, on a grid fine enough for
// the smallest cutter that will mill it.
func NewBarState(b profile.Blade, shop Shop, smallest float64) *BarState {
	grid, bound := ProofGrid(b, shop, smallest)
	s := &BarState{blade: b, shop: shop, bound: bound, faces: map[profile.Face]*proof.Map{}}
	for _, face := range profile.Faces() {
		s.faces[face] = proof.NewMap(grid, b.Stock())
	}
	return s
}

// ProveFullers cuts the bar with the motions of one face's program and judges what is
// left against the design, which is evaluated from the parameters alone.
func (s *BarState) ProveFullers(setup Setup, cutter Cutter, cusp float64, motions []motion.Motion) FaceProof {
	p := FaceProof{Step: Step{Fullers, setup.Face}, Map: s.faces[setup.Face]}
	p.Blocks = p.Map.Cut(setup.Placement, CutterOf(cutter), motions)
	tolerance := proof.Tolerance{Gouge: s.shop.Limits.Gouge, Leftover: cusp + s.shop.Limits.Leftover}
	p.Judged = proof.Judge(p.Map, proof.Exactly(s.blade.FullerSurface(setup.Face)), p.Blocks, tolerance, proofLimits(s.blade, s.shop, setup, cutter), CutterOf(cutter), s.bound)
	p.Stations = stationsOf(s.blade, p.Map, setup.Face)
	p.Seconds = secondsOf(motions, s.shop.Machine)
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

func proofLimits(b profile.Blade, shop Shop, setup Setup, cutter Cutter) proof.Limits {
	high := highestFace(b.Bar)
	_, _, perTooth := cutting.FeedPerTooth(cutter.Diameter)
	return proof.Limits{
		Feed: shop.Machine.FeedMost, FeedPerTooth: perTooth, RampSlope: math.Tan(shop.Limits.Ramp.Radians()), SteepCut: steepStocks * shop.Work.FinishStock,
		BarTop: high, JawTop: setup.Top - shop.Vise.BarAboveJaws,
		HighestTip: high + shop.Work.Clearance,
		FixedJaw:   b.Bar.Top, MovingJaw: b.Bar.Bottom, LeastX: b.Bar.Butt, MostX: b.Bar.Front,
	}
}

// stationsOf measures each fuller of a face at five stations.
func stationsOf(b profile.Blade, m *proof.Map, face profile.Face) []StationProof {
	var out []StationProof
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

func secondsOf(motions []motion.Motion, machine Machine) float64 {
	seconds := 0.0
	for i, v := range motions {
		feed := v.Feed
		switch {
		case i == 0:
			continue // the way to the first point is not known
		case v.Kind == motion.Dwell:
			seconds += v.Seconds
			continue
		case v.Kind == motion.Rapid:
			feed = machine.Rapid
		case v.Kind != motion.Line && v.Kind != motion.Arc || feed <= 0:
			continue
		}
		seconds += moveSeconds(v.Length(), feed, machine)
	}
	return seconds
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
	p := FaceProof{Step: Step{Fullers, face}, Map: proof.NewMap(proof.GridOver(box, coarsestStep), bar)}
	placement := motion.Placement{SignX: 1, SignY: 1, Z0: -high}
	p.Blocks = p.Map.Cut(placement, CutterOf(cutter), motions)
	_, _, perTooth := cutting.FeedPerTooth(cutter.Diameter)
	limits := proof.Limits{Feed: shop.Machine.FeedMost, FeedPerTooth: perTooth, RampSlope: math.Tan(shop.Limits.Ramp.Radians()), SteepCut: steepStocks * shop.Work.FinishStock,
		BarTop: high, JawTop: high - shop.Vise.BarAboveJaws, FixedJaw: 0, MovingJaw: -bar.Width, MostX: bar.Length}
	p.Judged = proof.Describe(p.Map, p.Blocks, limits, CutterOf(cutter))
	p.Seconds = secondsOf(motions, shop.Machine)
	return p
}
