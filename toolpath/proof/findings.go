package proof

import (
	"fmt"
	"math"

	"fullerwright/toolpath/motion"
)

// Limits are what a program must keep to besides.
type Limits struct {
	Feed         float64 // greatest, mm/min
	FeedPerTooth float64 // greatest while cutting, mm; 0 for no limit
	RampSlope    float64 // greatest way down over way along into solid steel
	SteepCut     float64 // greatest height a steeper way down may take off, mm: finishing stock
	Engagement   float64 // greatest height a block may take off, mm; 0 for no limit
	BarTop       float64 // highest place of the bar, in the face frame
	JawTop       float64 // height of the jaws, in the face frame
	FixedJaw     float64 // y of the edge of the bar at the fixed jaw
	MovingJaw    float64 // y of the other edge
	LeastX       float64 // the bar's ends
	MostX        float64
	Jaws         [2]float64 // x between which the jaws stand; both 0 for the whole bar
	Beside       float64    // how far beside the bar the cutter may begin below its face, mm
	HighestTip   float64    // of fed moves, in the face frame; 0 for no limit
	Floor        float64    // lowest place for the tip, in the face frame, below 0; 0 for no limit
	Travel       Space      // where the tip may go, in the face frame; zero for no limit
	Span         motion.Vec // how far apart the tip's places may lie along each axis; 0 for no limit
	// ChipThickness returns the thickest chip, mm, at a feed per tooth and a depth taken
	// off, mm; nil for the simple formula of the package.
	ChipThickness func(perTooth, depth float64) float64
	ThickestChip  float64 // mm; 0 for no limit
}

// Space is an upright box in space, mm.
type Space struct{ Low, High motion.Vec }

// Finding is something wrong with a program.
type Finding struct {
	Kind     string
	TextLine int // 0 where no line did it
	Message  string
	// Place is where, in the face frame. Value is what was found and Limit what is
	// allowed, in the units that the message names; both 0 where there is no number.
	Place        motion.Vec
	Value, Limit float64
}

// Air is the kind of finding of a program that cuts nothing.
const Air = "air"

// touch is the least height taken off that counts as cutting, mm: a cutter that
// slides along a surface it has cut already takes off the rounding of the text.
const touch = 3e-4

// rapidTouch is the same for rapid moves, mm.
const rapidTouch = 1e-4

// search gathers the findings of a program.
type search struct {
	limits    Limits
	cutter    Cutter
	findings  []Finding
	low, high motion.Vec // of the tip so far
	ranged    bool       // whether there are any
	beyond    bool       // whether they were found to lie too far apart
}

// found is one number against another.
type found struct{ value, limit float64 }

func (s *search) find(kind string, b Block, f found, format string, values ...any) {
	place := motion.Vec{X: b.X, Y: b.Y, Z: math.Min(b.Motion.From.Z, b.Motion.To.Z)}
	if b.Deepest == 0 {
		place = b.Motion.To
	}
	s.findings = append(s.findings, Finding{kind, b.Motion.TextLine, fmt.Sprintf(format, values...), place, f.value, f.limit})
}

// lookThrough looks at what each block did and how.
func lookThrough(blocks []Block, l Limits, c Cutter) []Finding {
	s := search{limits: l, cutter: c}
	cut, stopped, known := false, true, false
	for _, b := range blocks {
		cutting := b.Deepest > touch
		cut = cut || cutting
		switch {
		case b.Motion.Kind == motion.Stop:
			stopped = true
		case b.Motion.Kind == motion.Tool && !stopped:
			s.find("tool change", b, found{}, "the tool is changed in the middle of the program without a stop for the operator: put M0 before it, or make two programs")
		case moves(b.Motion):
			stopped = stopped && !cutting
		}
		if !moves(b.Motion) {
			continue
		}
		s.spindle(b, cutting)
		s.feed(b)
		s.depth(b, cutting)
		if b.Motion.Kind == motion.Rapid {
			s.rapid(b, known)
		}
		s.place(b)
		s.span(b, known)
		s.holder(b)
		known = true
	}
	if !cut {
		s.findings = append(s.findings, Finding{Kind: Air, Message: "the program cuts nothing of this bar: look at the face, the flip, the units and the zero"})
	}
	return s.findings
}

func (s *search) spindle(b Block, cutting bool) {
	if !cutting {
		return
	}
	switch b.Motion.Spindle {
	case motion.SpindleOff:
		s.find("spindle off", b, found{b.Deepest, 0}, "the cutter takes off %.3f mm with the spindle off: start it with M3 before the cut", b.Deepest)
	case motion.SpindleCounterclockwise:
		s.find("spindle reversed", b, found{b.Deepest, 0}, "the cutter takes off %.3f mm turning backward (M4): a right-hand cutter wants M3", b.Deepest)
	}
}

func (s *search) feed(b Block) {
	v, l := b.Motion, s.limits
	if v.Kind == motion.Rapid {
		return
	}
	if !(v.Feed > 0) {
		s.find("feed zero", b, found{v.Feed, 0}, "a fed move has a feed of %.0f mm/min, at which it never ends: give it a feed", v.Feed)
	}
	if v.Feed > l.Feed*(1+1e-9) {
		s.find("feed", b, found{v.Feed, l.Feed}, "a feed of %.1f mm/min is beyond the machine's %.1f mm/min: lower it to that or less", v.Feed, l.Feed)
	}
}

func (s *search) depth(b Block, cutting bool) {
	v, l := b.Motion, s.limits
	if f := b.perTooth(s.cutter); l.FeedPerTooth > 0 && f > l.FeedPerTooth*(1+1e-9) {
		s.find("chip", b, found{f, l.FeedPerTooth}, "a feed of %.3f mm per tooth in steel is beyond the cutter's %.3f mm: a feed of %.0f mm/min would do", f, l.FeedPerTooth, math.Floor(v.Feed*l.FeedPerTooth/f))
	}
	if chip := b.chip(s.cutter, l); l.ThickestChip > 0 && chip > l.ThickestChip*(1+1e-9) {
		s.find("thick chip", b, found{chip, l.ThickestChip}, "the chip is up to %.3f mm thick; %.3f mm is allowed: a feed of %.0f mm/min would do", chip, l.ThickestChip, math.Floor(v.Feed*l.ThickestChip/chip))
	}
	if l.Engagement > 0 && b.Deepest > l.Engagement {
		s.find("engagement", b, found{b.Deepest, l.Engagement}, "the block takes off %.3f mm at once; %.3f mm is allowed: cut it in %.0f levels", b.Deepest, l.Engagement, math.Ceil(b.Deepest/l.Engagement))
	}
	if !cutting || v.Kind == motion.Rapid {
		return
	}
	// The ramp is a limit on solid steel, not on finishing stock.
	worst := Descent{}
	for _, d := range b.Descents {
		if d.Slope > l.RampSlope*(1+1e-6)+rounded(b.Motion) && d.Deepest > math.Max(worst.Deepest, l.SteepCut) {
			worst = d
		}
	}
	if worst.Deepest > 0 {
		b.X, b.Y = worst.X, worst.Y
		s.find("plunge", b, found{degrees(worst.Slope), degrees(l.RampSlope)}, "the cutter goes down at %.1f degrees into %.3f mm of solid steel; %.1f degrees is allowed: enter along the groove", degrees(worst.Slope), worst.Deepest, degrees(l.RampSlope))
	}
}

// textStep is the coarsest last decimal of a program whose moves are to be trusted, mm: of
// inches with four decimals.
const textStep = 0.00254

// rounded returns by how much rounding its ends may make a straight move or a helix steeper:
// both may lie half a step of the last decimal off.
func rounded(v motion.Motion) float64 {
	along := 0.0
	switch {
	case v.Kind == motion.Line:
		along = math.Hypot(v.To.X-v.From.X, v.To.Y-v.From.Y)
	case v.Kind == motion.Arc && v.Plane == motion.PlaneXY:
		along = v.Radius() * math.Abs(v.Sweep)
	}
	if along < textStep {
		return 0
	}
	return textStep / along
}

func degrees(slope float64) float64 { return math.Atan(slope) * 180 / math.Pi }

// rapid looks at what a rapid move meets on its way, and on the way that a machine may
// take that does not run a move in several axes straight. The way to the first point of
// a program is not known.
func (s *search) rapid(b Block, known bool) {
	v := b.Motion
	if b.Deepest > rapidTouch {
		s.find("rapid through steel", b, found{b.Deepest, rapidTouch}, "a rapid move takes off %.4f mm of steel %.2f mm from the guard plane: lift to the clearance first, or feed there", b.Deepest, b.X)
	}
	if !known {
		return
	}
	across := v.To.X != v.From.X || v.To.Y != v.From.Y
	switch {
	case across && v.To.Z != v.From.Z && math.Min(v.To.Z, v.From.Z) <= s.limits.BarTop:
		s.find("slanting rapid", b, found{}, "a rapid move goes down or up and across at once below the face of the bar; not every machine runs that straight: move in Z alone, then across")
	case b.Corner.Value > rapidTouch:
		b.X, b.Y = b.Corner.X, b.Corner.Y
		s.find("slanting rapid", b, found{b.Corner.Value, rapidTouch}, "a rapid move in several axes may meet %.3f mm of steel on a machine that does not run it straight: move in one axis after the other", b.Corner.Value)
	}
}

// place looks at where the tip goes: too high, too low, off the machine, off the bar.
func (s *search) place(b Block) {
	v, l := b.Motion, s.limits
	reach, low, high := extent(v)
	if v.Kind != motion.Rapid && l.HighestTip > 0 && high > l.HighestTip+textStep {
		s.find("astray", b, found{high, l.HighestTip}, "a fed move rises %.2f mm over the height of rapid moves: look for a lost sign or decimal point", high-l.HighestTip)
	}
	if l.Floor < 0 && low < l.Floor-1e-3 {
		s.find("below the bar", b, found{low, l.Floor}, "the tip goes %.2f mm below what the bar lies on: raise the move or the bar", l.Floor-low)
	}
	if t := l.Travel; t != (Space{}) && (reach.MinX < t.Low.X || reach.MaxX > t.High.X || reach.MinY < t.Low.Y || reach.MaxY > t.High.Y || low < t.Low.Z || high > t.High.Z) {
		s.find("travel", b, found{}, "a move leaves the machine's travel: move the vise or the zero")
	}
	r := s.cutter.Radius
	if low < l.BarTop && (reach.MinX+r < l.LeastX-l.Beside || reach.MaxX-r > l.MostX+l.Beside || reach.MinY-r > l.FixedJaw+l.Beside || reach.MaxY+r < l.MovingJaw-l.Beside) {
		s.find("outside the bar", b, found{}, "a move goes below the face outside the bar: look at the zero and the units")
	}
}

// span looks at whether the tip's places lie further apart than the machine can travel,
// wherever its zero is. The way to the first point of a program is not known.
func (s *search) span(b Block, known bool) {
	reach, low, high := extent(b.Motion)
	if !known {
		at := b.Motion.To
		reach, low, high = Box{at.X, at.Y, at.X, at.Y}, at.Z, at.Z
	}
	from, to := motion.Vec{X: reach.MinX, Y: reach.MinY, Z: low}, motion.Vec{X: reach.MaxX, Y: reach.MaxY, Z: high}
	if s.ranged {
		from = motion.Vec{X: math.Min(from.X, s.low.X), Y: math.Min(from.Y, s.low.Y), Z: math.Min(from.Z, s.low.Z)}
		to = motion.Vec{X: math.Max(to.X, s.high.X), Y: math.Max(to.Y, s.high.Y), Z: math.Max(to.Z, s.high.Z)}
	}
	s.low, s.high, s.ranged = from, to, true
	if s.beyond {
		return
	}
	for _, axis := range []struct {
		name       string
		span, most float64
	}{{"X", to.X - from.X, s.limits.Span.X}, {"Y", to.Y - from.Y, s.limits.Span.Y}, {"Z", to.Z - from.Z, s.limits.Span.Z}} {
		if axis.most > 0 && axis.span > axis.most+1e-6 {
			s.beyond = true
			s.find("travel", b, found{axis.span, axis.most}, "with this move the program spans %.2f mm along %s; the machine travels %.2f mm: split the program, or look for a lost decimal point", axis.span, axis.name, axis.most)
		}
	}
}

// holder looks at what stands above the flutes, and at the jaws.
func (s *search) holder(b Block) {
	v, l, c := b.Motion, s.limits, s.cutter
	reach, low, _ := extent(v)
	over := func(r float64) bool {
		beside := l.Jaws != [2]float64{} && (reach.MaxX+r < l.Jaws[0] || reach.MinX-r > l.Jaws[1])
		return !beside && (reach.MaxY+r > l.FixedJaw || reach.MinY-r < l.MovingJaw)
	}
	if low < l.JawTop && over(c.Radius) {
		s.find("jaw", b, found{low, l.JawTop}, "the tip goes %.2f mm below the top of the jaws while the cutter reaches over one: raise the bar by %.2f mm in the vise", l.JawTop-low, l.JawTop-low)
	}
	if c.FluteLength > 0 && low+c.FluteLength < l.JawTop && over(c.shankRadius()) && !over(c.Radius) {
		s.find("jaw", b, found{low + c.FluteLength, l.JawTop}, "the shank comes %.2f mm below the top of the jaws beside one: raise the bar by as much", l.JawTop-low-c.FluteLength)
	}
	switch end := low + c.StickOut; {
	case c.StickOut <= 0:
	case c.HolderRadius <= 0 && end < l.BarTop:
		s.find("holder", b, found{end, l.BarTop}, "the holder comes %.2f mm below the face of the bar: let the cutter stand out %.1f mm", l.BarTop-end, math.Ceil(c.StickOut+l.BarTop-end))
	case b.Holder.Value > touch:
		b.X, b.Y = b.Holder.X, b.Holder.Y
		s.find("holder", b, found{b.Holder.Value, 0}, "%.2f mm of steel stands in the way of the holder: let the cutter stand out %.1f mm", b.Holder.Value, math.Ceil(c.StickOut+b.Holder.Value))
	case c.HolderRadius > 0 && end < l.JawTop && over(c.HolderRadius):
		s.find("jaw", b, found{end, l.JawTop}, "the holder comes %.2f mm below the top of the jaws over one: let the cutter stand out %.1f mm", l.JawTop-end, math.Ceil(c.StickOut+l.JawTop-end))
	}
	if b.Shank.Value > touch {
		b.X, b.Y = b.Shank.X, b.Shank.Y
		s.find("shank", b, found{b.Shank.Value, 0}, "%.2f mm of steel stands in the way of the shank above the flutes: flutes of %.1f mm would do", b.Shank.Value, math.Ceil(c.FluteLength+b.Shank.Value))
	}
}
