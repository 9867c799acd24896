package proof

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/toolpath/motion"
)

type groove struct{ radius, depth, top float64 }

func (g groove) Height(x, y float64) float64 {
	if x < 0 || x > 40 {
		return g.top
	}
	if d := g.radius*g.radius - y*y; d > 0 {
		return math.Min(g.top, g.top-g.depth+g.radius-math.Sqrt(d))
	}
	return g.top
}

func limits() Limits {
	return Limits{Feed: 1000, FeedPerTooth: 0.1, RampSlope: math.Tan(3 * math.Pi / 180), SteepCut: 0.4, Engagement: 1.2, ThickestChip: 0.08,
		BarTop: 2, JawTop: 0, FixedJaw: 10, MovingJaw: -10, LeastX: -5, MostX: 45, HighestTip: 8,
		Floor: -2, Travel: Space{vec(-50, -50, -50), vec(90, 50, 80)}}
}

func testCutter() Cutter {
	return Cutter{Radius: 3, Flutes: 2, FluteLength: 8, StickOut: 20, HolderRadius: 12}
}

// program is a clean cut: over, down beside the steel, in, and up.
func program() []motion.Motion {
	on := motion.SpindleClockwise
	out := []motion.Motion{
		{Kind: motion.Rapid, TextLine: 1, From: vec(-4, 0, 7), To: vec(0, 0, 7), Spindle: on},
		{Kind: motion.Line, TextLine: 2, From: vec(0, 0, 7), To: vec(0, 0, 2), Feed: 100, Spindle: on},
		{Kind: motion.Line, TextLine: 3, From: vec(0, 0, 2), To: vec(20, 0, 1), Feed: 100, Spindle: on},
		{Kind: motion.Line, TextLine: 4, From: vec(20, 0, 1), To: vec(0, 0, 1), Feed: 100, Spindle: on},
		{Kind: motion.Line, TextLine: 5, From: vec(0, 0, 1), To: vec(40, 0, 1), Feed: 100, Spindle: on},
		{Kind: motion.Rapid, TextLine: 6, From: vec(40, 0, 1), To: vec(40, 0, 7), Spindle: on},
	}
	for i := range out {
		out[i].Speed = 3000
	}
	return out
}

func judgedWith(motions []motion.Motion, c Cutter, l Limits) Judgement {
	m := NewMap(GridOver(Box{3.5, -5, 36.5, 5}, 0.1), level(2))
	blocks := m.Cut(here, c, motions)
	return Judge(m, Exactly(groove{3, 1, 2}), blocks, Tolerance{Gouge: 0.005, Leftover: 0.01}, l, c, 0.001, Place{20, 0})
}

func judged(motions []motion.Motion) Judgement { return judgedWith(motions, testCutter(), limits()) }

func TestCleanProgramIsClean(t *testing.T) {
	j := judged(program())
	assert.Empty(t, j.Findings)
	assert.True(t, j.OK())
	assert.Less(t, j.Gouge.Value, 1e-9)
	assert.Less(t, j.Leftover.Value, 1e-9)
	assert.Equal(t, 3, j.BlocksCutting)
	// A chip of 100/6000 mm a tooth, 1 mm deep in a ball of 3 mm radius: sqrt(1·5)/3 of
	// it at the top.
	assert.InDelta(t, 100.0/6000*math.Sqrt(5)/3, j.ThickestChip.Value, 1e-9)
	require.Len(t, j.Stations, 1)
	assert.InDelta(t, 1, j.Stations[0].Depth, 1e-9)
	assert.InDelta(t, j.Stations[0].DesignWidth, j.Stations[0].Width, 1e-9)
	// The volume is that of the segment, r²·acos(1-d/r) - (r-d)·sqrt(d·(2r-d)), along the
	// 33 mm of the map, by strips a step wide.
	segment := 9*math.Acos(2.0/3) - 2*math.Sqrt(5)
	assert.InDelta(t, segment*33.1, j.Removed, 0.1)
}

// TestPlantedFaults: each fault is found at the line that has it, where it is, with a
// value beyond its limit where it has one.
func TestPlantedFaults(t *testing.T) {
	off := func(p []motion.Motion, i int, d motion.Vec) { p[i].From, p[i].To = p[i].From.Add(d), p[i].To.Add(d) }
	for name, row := range map[string]struct {
		kind  string
		line  int
		plant func(p []motion.Motion)
	}{
		"rapid at depth":   {"rapid through steel", 5, func(p []motion.Motion) { p[4].Kind = motion.Rapid }},
		"spindle off":      {"spindle off", 3, func(p []motion.Motion) { p[2].Spindle = motion.SpindleOff }},
		"turning backward": {"spindle reversed", 3, func(p []motion.Motion) { p[2].Spindle = motion.SpindleCounterclockwise }},
		"too thick a chip": {"chip", 4, func(p []motion.Motion) { p[3].Feed = 900 }},
		"thick at the top": {"thick chip", 4, func(p []motion.Motion) { p[3].Feed = 800 }},
		"too fast":         {"feed", 4, func(p []motion.Motion) { p[3].Feed = 1001 }},
		"feed zero":        {"feed zero", 4, func(p []motion.Motion) { p[3].Feed = 0 }},
		"feed below zero":  {"feed zero", 4, func(p []motion.Motion) { p[3].Feed = -5 }},
		"too deep":         {"gouge", 5, func(p []motion.Motion) { off(p, 4, vec(0, 0, -0.05)) }},
		"sideways":         {"gouge", 5, func(p []motion.Motion) { p[4].From.Y, p[4].To.Y = 0.05, 0.05 }},
		"beside":           {"gouge", 5, func(p []motion.Motion) { off(p, 4, vec(0, 5, 0.95)) }},
		"too shallow": {"leftover", 4, func(p []motion.Motion) {
			p[2].To.Z += 0.05
			off(p, 3, vec(0, 0, 0.05))
			off(p, 4, vec(0, 0, 0.05))
		}},
		"plunge": {"plunge", 3, func(p []motion.Motion) { p[2].From.X, p[1].To.X, p[1].From.X = 18, 18, 18 }},
		"straight down": {"plunge", 2, func(p []motion.Motion) {
			p[1].From, p[1].To, p[2].From = vec(10, 0, 7), vec(10, 0, 1), vec(10, 0, 1)
		}},
		"deep at once":      {"engagement", 5, func(p []motion.Motion) { off(p, 4, vec(0, 0, -1.3)) }},
		"astray":            {"astray", 2, func(p []motion.Motion) { p[1].From.Z = 30 }},
		"tool changed":      {"tool change", 6, func(p []motion.Motion) { p[5].Kind = motion.Tool }},
		"over the jaw":      {"jaw", 6, func(p []motion.Motion) { p[5].From, p[5].To = vec(40, 8, -1), vec(40, 8, 7) }},
		"off the end":       {"outside the bar", 6, func(p []motion.Motion) { p[5].From = vec(60, 0, 1); p[5].To = vec(60, 0, 7) }},
		"off the machine":   {"travel", 6, func(p []motion.Motion) { p[5].To.Z = 81 }},
		"off to the left":   {"travel", 6, func(p []motion.Motion) { p[5].To.X = -51 }},
		"off to the right":  {"travel", 6, func(p []motion.Motion) { p[5].To.X = 91 }},
		"off to the front":  {"travel", 6, func(p []motion.Motion) { p[5].To.Y = -51 }},
		"off to the back":   {"travel", 6, func(p []motion.Motion) { p[5].To.Y = 51 }},
		"off below":         {"travel", 6, func(p []motion.Motion) { p[5].To.Z = -51 }},
		"into the parallel": {"below the bar", 5, func(p []motion.Motion) { p[4].To.Z = -2.5 }},
		"slanting":          {"slanting rapid", 6, func(p []motion.Motion) { p[5].To.X = 44 }},
	} {
		p := program()
		row.plant(p)
		j := judged(p)
		found := false
		for _, f := range j.Findings {
			found = found || f.Kind == row.kind && f.TextLine == row.line
			assert.NotEmpty(t, f.Message)
		}
		assert.True(t, found, "%s: %+v", name, j.Findings)
		assert.False(t, j.OK())
	}
	air := judged(program()[:2])
	kinds := map[string]bool{}
	for _, f := range air.Findings {
		kinds[f.Kind] = true
	}
	assert.True(t, kinds["air"])
}

// TestFindingsSayWhereAndHowMuch looks at place, value and limit of two findings.
func TestFindingsSayWhereAndHowMuch(t *testing.T) {
	p := program()
	p[4].Kind = motion.Rapid
	f := judged(p).Findings[0]
	assert.Equal(t, "rapid through steel", f.Kind)
	assert.InDelta(t, 1, f.Value, 1e-9, "the cutter goes 1 mm deep")
	assert.Equal(t, rapidTouch, f.Limit)
	assert.Greater(t, f.Place.X, 22.0, "beyond where the ramp has been")
	p = program()
	p[4].From.Z, p[4].To.Z = 0.95, 0.95
	for _, f := range judged(p).Findings {
		if f.Kind == "gouge" {
			assert.InDelta(t, 0.05, f.Value, 1e-4)
			assert.Equal(t, 0.005, f.Limit)
		}
	}
}

// TestRapidsNotRunStraight: a rapid in X and Y at once passes clear of a boss when run
// straight; in the box of its axes it would not. In one axis after the other there is
// no fault.
func TestRapidsNotRunStraight(t *testing.T) {
	boss := surface(func(x, y float64) float64 {
		if x > 14 && y < 6 {
			return 2
		}
		return -1
	})
	from, corner, to := vec(0, 0, 1), vec(0, 20, 1), vec(20, 20, 1)
	rapid := func(line int, a, b motion.Vec) motion.Motion {
		return motion.Motion{Kind: motion.Rapid, TextLine: line, From: a, To: b, Spindle: motion.SpindleClockwise}
	}
	kinds := func(motions ...motion.Motion) (out []string) {
		m := NewMap(GridOver(Box{-5, -5, 25, 25}, 0.5), boss)
		l := limits()
		l.FixedJaw, l.BarTop = 40, -1
		for _, f := range Describe(m, m.Cut(here, Cutter{Radius: 2}, motions), l, Cutter{Radius: 2}).Findings {
			out = append(out, f.Kind)
		}
		return out
	}
	over := rapid(1, vec(0, 0, 7), from)
	assert.Equal(t, []string{"slanting rapid", "air"}, kinds(over, rapid(2, from, to)))
	assert.Equal(t, []string{"air"}, kinds(over, rapid(2, from, corner), rapid(3, corner, to)))

	// The way to the first point is not known, also where the program waits or stops before.
	astray := rapid(3, vec(0, 0, 0), to)
	assert.Equal(t, []string{"air"}, kinds(astray))
	for _, kind := range []motion.Kind{motion.Dwell, motion.Stop, motion.Tool} {
		assert.Equal(t, []string{"air"}, kinds(motion.Motion{Kind: kind, TextLine: 2}, astray))
	}
}

// TestShankAndHolder: steel that stands higher than the flutes, or than the holder, is
// found as it stands when the cutter comes by, and only beside the shank or the holder.
func TestShankAndHolder(t *testing.T) {
	pass := fed(vec(0, 0, -9), vec(40, 0, -9))
	kinds := func(c Cutter, stock Surface, motions ...motion.Motion) map[string]float64 {
		m := NewMap(GridOver(Box{5, -20, 35, 20}, 0.5), stock)
		l := limits()
		l.FixedJaw, l.MovingJaw, l.JawTop, l.Floor, l.Engagement = 50, -50, -30, -30, 0
		out := map[string]float64{}
		for _, f := range Describe(m, m.Cut(here, c, motions), l, c).Findings {
			out[f.Kind] = f.Value
		}
		return out
	}
	c := testCutter()
	solid := kinds(c, level(2), pass)
	assert.InDelta(t, 3, solid["shank"], 1e-9, "11 mm deep with flutes of 8")
	assert.NotContains(t, solid, "holder")
	// With the slot wide open the same pass meets nothing.
	open := surface(func(_, y float64) float64 {
		if math.Abs(y) < 5 {
			return -8
		}
		return 2
	})
	assert.Empty(t, kinds(c, open, pass))
	short := c
	short.StickOut = 10
	assert.InDelta(t, 1, kinds(short, open, pass)["holder"], 1e-9, "the holder comes down to 1, the face is at 2")
	short.HolderRadius = 4.9
	assert.Empty(t, kinds(short, open, pass), "a slim one goes into the slot")
	thick := c
	thick.ShankRadius = 6
	assert.InDelta(t, 3, kinds(thick, open, pass)["shank"], 1e-9, "a thick shank meets the banks")
	// Cut level by level with short flutes, the shank never stands in solid steel.
	levels := []motion.Motion{fed(vec(0, 0, -4), vec(40, 0, -4)), fed(vec(40, 0, -4), vec(40, 0, -9)), fed(vec(40, 0, -9), vec(0, 0.0002, -9))}
	assert.NotContains(t, kinds(c, level(2), levels...), "shank")
}

// TestPlungesAreIntoSolidSteel: only what a steep part of the way takes off counts.
func TestPlungesAreIntoSolidSteel(t *testing.T) {
	plunges := func(v motion.Motion) (n int) {
		v.Speed = 3000
		for _, f := range judged([]motion.Motion{v}).Findings {
			if f.Kind == "plunge" {
				n++
			}
		}
		return n
	}
	// A dip of radius 20: it comes down at 18 degrees in the air and levels out in the
	// steel; its steep part takes off nothing.
	dip := func(depth float64) motion.Motion {
		reach := math.Sqrt(40*4 - 16.0)
		return motion.Motion{Kind: motion.Arc, TextLine: 1, Plane: motion.PlaneZX, Feed: 100, Spindle: motion.SpindleClockwise,
			From: vec(20-reach, 0, 2-depth+4), To: vec(20, 0, 2-depth), Centre: vec(20, 0, 22-depth), Sweep: -math.Asin(reach / 20)}
	}
	v := dip(0.02)
	require.InDelta(t, 0, v.At(1).Sub(v.To).Norm(), 1e-9)
	assert.Zero(t, plunges(v))
	assert.Equal(t, 1, plunges(dip(1)), "a deeper one enters steel where it is steep")
	rise := dip(1)
	rise.From, rise.To = rise.To, vec(40-rise.From.X, 0, rise.From.Z)
	require.InDelta(t, 0, rise.At(1).Sub(rise.To).Norm(), 1e-9)
	assert.Zero(t, plunges(rise), "leaving at the same angle is none")
	for _, v := range []motion.Motion{dip(1), rise} {
		back := v
		back.From, back.To, back.Sweep = v.To, v.From, -v.Sweep
		assert.Equal(t, 1-plunges(v), plunges(back), "the other way it is the other way round")
	}
	gentle := fed(vec(0, 0, 2), vec(30, 0, 0.9))
	assert.Zero(t, plunges(gentle))
	assert.Equal(t, 1, plunges(fed(vec(10, 0, 2), vec(20, 0, 0.9))))
	stock := limits().SteepCut
	assert.Zero(t, plunges(fed(vec(10, 0, 3), vec(10, 0, 2-0.99*stock))), "finishing stock")
	assert.Equal(t, 1, plunges(fed(vec(10, 0, 3), vec(10, 0, 2-1.01*stock))))
}

// TestJaws: the holder and the shank over or beside a jaw, and a holder of unknown size
// below the face.
func TestJaws(t *testing.T) {
	for name, row := range map[string]struct {
		cutter Cutter
		y      float64
		want   []string
	}{
		"clear":                {Cutter{Radius: 3, FluteLength: 20, StickOut: 30, HolderRadius: 12}, 0, nil},
		"holder over a jaw":    {Cutter{Radius: 3, FluteLength: 7.5, StickOut: 9, HolderRadius: 12}, 0, []string{"jaw"}},
		"slim holder":          {Cutter{Radius: 3, FluteLength: 7.5, StickOut: 9, HolderRadius: 9}, 0, nil},
		"holder beside":        {Cutter{Radius: 3, FluteLength: 7.5, StickOut: 9, HolderRadius: 9}, -2, []string{"jaw"}},
		"thick shank":          {Cutter{Radius: 3, FluteLength: 7.5, StickOut: 30, ShankRadius: 12}, 0, []string{"jaw"}},
		"holder of any size":   {Cutter{Radius: 3, FluteLength: 7.5, StickOut: 9}, 0, []string{"holder"}},
		"one that stands high": {Cutter{Radius: 3, FluteLength: 7.5, StickOut: 13}, 0, nil},
	} {
		m := NewMap(GridOver(Box{5, -2, 35, 2}, 0.5), level(-6))
		l := limits()
		l.BarTop, l.JawTop, l.Floor, l.Engagement = 3, 0, -20, 0
		var kinds []string
		for _, f := range Describe(m, m.Cut(here, row.cutter, []motion.Motion{fed(vec(0, row.y, -9.5), vec(40, row.y, -9.5))}), l, row.cutter).Findings {
			kinds = append(kinds, f.Kind)
		}
		assert.Equal(t, row.want, kinds, name)
	}
}

// TestChips: the chip at the top of the contact, by the width that the cutter has there.
func TestChips(t *testing.T) {
	for _, row := range []struct {
		cutter Cutter
		want   float64 // of the feed per tooth
	}{
		{Cutter{Radius: 3, Flutes: 2}, math.Sqrt(5) / 3},
		{Cutter{Square: true, Radius: 3, Flutes: 2}, 1},
		{Cutter{Square: true, Radius: 3, CornerRadius: 2, Flutes: 2}, (1 + math.Sqrt(3)) / 3},
		{Cutter{Radius: 0.5, Flutes: 2}, 1},
	} {
		m := NewMap(GridOver(Box{5, -2, 35, 2}, 0.5), level(2))
		v := fed(vec(0, 0, 1), vec(40, 0, 1))
		v.Speed = 1000
		j := Describe(m, m.Cut(here, row.cutter, []motion.Motion{v}), limits(), row.cutter)
		assert.InDelta(t, 0.05*row.want, j.ThickestChip.Value, 1e-12)
	}
}

// TestChipThickness: a caller's own formula is asked.
func TestChipThickness(t *testing.T) {
	l := limits()
	l.ThickestChip = 0
	l.ChipThickness = func(perTooth, depth float64) float64 { return 10*perTooth + depth }
	assert.InDelta(t, 1000.0/6000+1, judgedWith(program(), testCutter(), l).ThickestChip.Value, 1e-9)
}

// TestSpanOfTheProgram: a program that reaches further apart than the machine travels is
// found once, at the move that goes too far; the way to its first point is not counted.
func TestSpanOfTheProgram(t *testing.T) {
	l := limits()
	l.Span, l.Travel = vec(200, 60, 20), Space{}
	run := func(to motion.Vec) []Finding {
		p := program()
		p[0].From = vec(-900, 900, 900) // wherever it stood
		last := p[len(p)-1]
		away := motion.Motion{TextLine: 90, Kind: motion.Rapid, From: last.To, To: to, Speed: last.Speed, Spindle: last.Spindle}
		back := away
		back.TextLine, back.From, back.To = 91, away.To, away.From
		bar := NewMap(GridOver(Box{-3, -6, 43, 6}, 0.1), level(2))
		return Describe(bar, bar.Cut(here, testCutter(), append(p, away, back)), l, testCutter()).Findings
	}
	high := program()[len(program())-1].To.Z
	assert.Empty(t, kindsOf(run(vec(150, 0, high)), "travel"))
	found := kindsOf(run(vec(-180, 0, high)), "travel")
	if assert.Len(t, found, 1) {
		assert.Equal(t, 90, found[0].TextLine)
		assert.Greater(t, found[0].Value, 200.0)
	}
	assert.Len(t, kindsOf(run(vec(40, -70, high)), "travel"), 1)
	assert.Len(t, kindsOf(run(vec(40, 0, high+30)), "travel"), 1)
}

// kindsOf returns the findings of one kind.
func kindsOf(all []Finding, kind string) (out []Finding) {
	for _, f := range all {
		if f.Kind == kind {
			out = append(out, f)
		}
	}
	return out
}

// TestRoundingIsNoFault: a ramp may be steeper, and a fed move rise higher, by what a program in
// inches of four decimals makes of them by rounding, and by no more.
func TestRoundingIsNoFault(t *testing.T) {
	const step = 0.0001 * 25.4
	for share, findings := range map[float64][]string{0.9: nil, 1.1: {"plunge"}} {
		p := program()
		// A drop of 1 mm over a way a is as steep as 1/a = limit + share·step/a.
		from := 20 - (1-share*step)/limits().RampSlope
		p[0].To.X, p[1].From.X, p[1].To.X, p[2].From.X = from, from, from, from
		assert.Equal(t, findings, kinds(judged(p)), "a ramp steeper by %g of the rounding", share)
	}
	for share, findings := range map[float64][]string{0.9: nil, 1.1: {"astray"}} {
		p := program()
		p[0].From.Z, p[0].To.Z, p[1].From.Z = 8+share*step, 8+share*step, 8+share*step
		assert.Equal(t, findings, kinds(judged(p)), "a move higher by %g of the rounding", share)
	}
}

func kinds(j Judgement) []string {
	var out []string
	for _, f := range j.Findings {
		out = append(out, f.Kind)
	}
	return out
}
