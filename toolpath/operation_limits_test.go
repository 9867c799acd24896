package toolpath

import (
	"maps"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/toolpath/cutting"
)

// tradeLimits are the limits that nobody sets, as the trade has them: lengths in mm, an angle
// in degrees, a feed for a turn over the diameter (common practice, no source).
func tradeLimits() map[string]float64 {
	return map[string]float64{
		"bar to clamp behind the tang": 12, "bar to clamp in front of the point": 12, "wall of the guard beside the slot": 2, "guard beyond the ends of the slot": 2,
		"flat around the mark": 1, "face above the top of the jaws": 0.1, "air under the cutter that comes through": 1, "cutter to the jaws below their top": 0.5,
		"contact of the cutter in a corner": 100, "depth of the mark on the bar over the ball's diameter": 1, "edges of the bar below the top of the jaws": 2,
	}
}

// pinned is a job whose plan and speeds stay while one limit moves.
type pinned struct {
	job    Job
	blade  profile.Blade
	shop   Shop
	data   cutting.Data
	side   sidePlan
	slot   profile.GuardSlot
	path   outlinePlanned
	corner cornerWork
	mark   profile.MarkCut
	again  func(p pinned) []Check
}

// mover moves one limit to a hundredth inside the value of a check or, where the limit is a
// figure of the trade that nobody sets, the value to a hundredth beyond it.
type mover func(p *pinned, c Check)

const aHundredthLess, aHundredthMore = 1 / 1.01, 1.01

// machineMovers are the limits that every operation has.
func machineMovers() map[string]mover {
	return map[string]mover{
		"spindle speed, most":                         func(p *pinned, c Check) { p.shop.Machine.SpindleMost = aHundredthLess * c.Value },
		"spindle speed, least":                        func(p *pinned, c Check) { p.shop.Machine.SpindleLeast = aHundredthMore * c.Value },
		"feed, most":                                  func(p *pinned, c Check) { p.shop.Machine.FeedMost = aHundredthLess * c.Value },
		"depth against the flutes, most":              func(p *pinned, c Check) { p.job.Cutter.FluteLength = aHundredthLess * c.Value },
		"travel in X, most":                           func(p *pinned, c Check) { p.shop.Machine.TravelX = aHundredthLess * c.Value },
		"travel in Y, most":                           func(p *pinned, c Check) { p.shop.Machine.TravelY = aHundredthLess * c.Value },
		"travel in Z, most":                           func(p *pinned, c Check) { p.shop.Machine.TravelZ = aHundredthLess * c.Value },
		"width against the opening of the vise, most": func(p *pinned, c Check) { p.shop.Vise.JawOpening = aHundredthLess * c.Value },
		"cutter to the jaws below their top, least":   nearerJaws,
		"face above the top of the jaws, least": func(p *pinned, c Check) {
			p.shop.Vise.JawHeight += c.Value - aHundredthLess*aboveLeast // jaws and what comes through stay apart
		},
		"power at the motor, with half as much again for what is not known, most": func(p *pinned, c Check) { p.shop.Machine.Power = aHundredthLess * c.Value },
	}
}

// sideMovers are those of a cut with the side of the cutter.
func sideMovers() map[string]mover {
	out := machineMovers()
	maps.Copy(out, map[string]mover{
		"depth of a level, most": func(p *pinned, c Check) { // a square end goes two and a half times as deep as a ball
			p.data.DepthRatioMost = aHundredthLess * c.Value / (2.5 * 2 * p.job.Cutter.Radius() * stickOutShare(p.job.Cutter))
		},
		"surface speed at the diameter, most":        func(p *pinned, c Check) { p.data.CoatedMost = aHundredthLess * c.Value },
		"feed per tooth, most":                       func(p *pinned, c Check) { p.moveFeeds(aHundredthLess * c.Value / c.Limit) },
		"feed per tooth, least":                      func(p *pinned, c Check) { p.moveFeeds(aHundredthMore * c.Value / c.Limit) },
		"deflection of the cutter in roughing, most": func(p *pinned, c Check) { p.shop.Limits.CutterBend = aHundredthLess * c.Value },
		"depth against the stick-out, most": func(p *pinned, c Check) {
			p.job.Cutter.StickOut = aHundredthLess * c.Value
			p.side.cutter.StickOut = aHundredthLess * c.Value
		},
	})
	return out
}

// moveFeeds multiplies the range of the feed per tooth.
func (p *pinned) moveFeeds(share float64) {
	if p.data.FeedShare == 0 {
		p.data.FeedShare = 1
	}
	p.data.FeedShare *= share
}

// cautionsOnly are the checks that can only caution.
var cautionsOnly = []string{
	"hardness of a normalised bar, which is milled slower", "surface speed at the diameter, least", "surface speed at the effective diameter, least",
	"run-out against the feed per tooth, most", "thickest chip of finishing against rubbing, least", "deflection of the cutter in the last pass, most",
	"cut beyond the end of the jaws, most", "corner left at the foot of the face step, least", "corner left at the foot of the face step, most",
	"corner that the cutter leaves, beside the knife's own, most", "shoulder skew to the blade by the jaw's sweep, most",
	"gap between the shoulders of the two setups by the jaw's sweep, most", "step between the shoulders of the two setups, at worst, most",
	"corner that the cutter leaves in the slot, beside what the tang's edges clear, most", "steel left in the inside corners of the rough line, most",
	"stick-out over the diameter, most", "feed for a turn over the diameter, least", "run-out against five thousandths, most",
	"thickest chip in a corner against rubbing, least", "deflection of the cutter in finishing, most", // of a mark: it has no finishing
}

func limitName(c Check) string {
	if c.Least {
		return c.Name + ", least"
	}
	return c.Name + ", most"
}

// holds moves each limit of a pinned job in turn: exactly that check stops it.
func holds(t *testing.T, label string, p pinned, movers map[string]mover) {
	t.Helper()
	if stand := p.job.Stand(p.shop); stand.Known() {
		p.shop.Parallels = []Parallel{{stand.Parallels}} // the others stay in the drawer
	}
	checks := p.again(p)
	require.Empty(t, Stops(checks), label)
	for _, c := range checks {
		name := limitName(c)
		if limit, trade := tradeLimits()[c.Name]; trade {
			assert.InDelta(t, limit, c.Limit, 1e-9, "%s: %s", label, name)
		}
		move, known := movers[name]
		if !known {
			assert.Contains(t, cautionsOnly, name, "%s: nobody moves %s", label, c)
			continue
		}
		moved := p
		moved.job.Checks = nil
		move(&moved, c)
		stops := Stops(moved.again(moved))
		if assert.Len(t, stops, 1, "%s: %s: %v", label, name, stops) {
			assert.Equal(t, name, limitName(stops[0]), label)
			assert.NotEmpty(t, stops[0].Source, name)
			assert.NotEmpty(t, stops[0].Remedy, name)
		}
	}
}

// limitsKnife has a step on each face, a guard, a mark, holes and an outline in tabs.
func limitsKnife() profile.Knife {
	k := remedyKnife()
	k.Shoulder.FaceStep = 0.3
	k.Holes = append(k.Holes, profile.Hole{At: -60, FromSpine: 15, Diameter: profile.Some(4), Face: "right"})
	return k
}

func pinnedJob(t *testing.T, b profile.Blade, shop Shop, step Step, cutter string) pinned {
	t.Helper()
	job, _, err := Plan(b, shop, step, SetupFor(b.Bar, step.Face, AboutY), cutter)
	require.NoError(t, err)
	data, err := shop.steelData(b)
	if step.Operation == Slot {
		data, err = shop.guardData(b)
	}
	require.NoError(t, err)
	return pinned{job: *job, blade: b, shop: shop, data: data}
}

// TestEachLimitOfEveryOperationStopsAlone: as for fullers, for shoulder, outline, slot, holes,
// mark and corners.
func TestEachLimitOfEveryOperationStopsAlone(t *testing.T) {
	b, shop := mustBuild(t, limitsKnife()), builtInShop(t)
	t.Run("shoulder", func(t *testing.T) {
		p := pinnedJob(t, b, shop, Step{Operation: Shoulders}, "square 6")
		p.side = sidePlanFor(shop, p.data, p.job.Cutter, p.job.Deepest)
		cut, err := b.ShoulderCut(p.job.Cutter.Radius())
		require.NoError(t, err)
		p.again = func(p pinned) []Check {
			return p.job.shoulderChecks(p.blade, p.shop, p.data, shoulderPlanned{cut, p.side, true})
		}
		movers := sideMovers()
		movers["bar held in the jaws, least"] = func(p *pinned, c Check) { p.job.Setup.Jaws[1] -= c.Value - aHundredthLess*c.Limit }
		movers["edges of the bar below the top of the jaws, least"] = outOfTheJaws
		movers["air under the cutter that comes through, least"] = lessAir
		holds(t, "shoulder", p, movers)
	})
	t.Run("outline", func(t *testing.T) {
		p := pinnedJob(t, b, shop, Step{Operation: Outline}, "square 6")
		p.side = sidePlanFor(shop, p.data, p.job.Cutter, p.job.Deepest)
		p.side.passes, p.side.finishFeed = 0, p.side.perTooth
		cut, err := b.OutlineCut(p.job.Cutter.Radius(), 0)
		require.NoError(t, err)
		p.path = outlinePlanned{cut, p.side, 20}
		p.again = func(p pinned) []Check {
			p.path.side = p.side
			return p.job.outlineChecks(p.blade, p.shop, p.data, p.path)
		}
		movers := sideMovers()
		movers["bar to clamp behind the tang, least"] = func(p *pinned, c Check) { p.blade.Bar.Butt += c.Value - aHundredthLess*c.Limit }
		movers["bar to clamp in front of the point, least"] = func(p *pinned, c Check) { p.blade.Bar.Front -= c.Value - aHundredthLess*c.Limit }
		movers["tabs with their slopes along the rough line, most"] = func(p *pinned, c Check) { p.path.tab *= aHundredthMore * c.Limit / c.Value }
		movers["steepest ramp, most"] = flatterRamp
		holds(t, "outline", p, movers)
	})
	t.Run("slot", func(t *testing.T) {
		shop := withoutDrills(shop) // it goes down by ramps
		p := pinnedJob(t, b, shop, Step{Operation: Slot}, "square 3")
		p.slot, _ = b.GuardSlot(p.job.Cutter.Radius())
		p.side = sidePlanFor(shop, p.data, p.job.Cutter, p.job.Deepest)
		p.again = func(p pinned) []Check { return p.job.slotChecks(p.shop, p.data, p.slot, p.side) }
		movers := sideMovers()
		movers["wall of the guard beside the slot, least"] = func(p *pinned, c Check) { p.slot.BlankWidth -= 2 * (c.Value - aHundredthLess*c.Limit) }
		movers["guard beyond the ends of the slot, least"] = func(p *pinned, c Check) { p.slot.BlankLength -= 2 * (c.Value - aHundredthLess*c.Limit) }
		movers["steepest ramp, most"] = flatterRamp
		movers["air under the cutter that comes through, least"] = lessAir
		holds(t, "slot", p, movers)
	})
	t.Run("holes", func(t *testing.T) {
		p := pinnedJob(t, b, shop, Step{Operation: Holes, Bore: 4}, "")
		p.again = func(p pinned) []Check { return p.job.drillChecks(p.shop, p.data) }
		movers := machineMovers()
		movers["surface speed at the diameter, most"] = func(p *pinned, c Check) { p.data.HSSMost = aHundredthLess * c.Value }
		movers["feed for a turn over the diameter, most"] = func(p *pinned, c Check) { p.job.Feeds.Plunge *= aHundredthMore * c.Limit / c.Value }
		movers["depth against the stick-out, most"] = func(p *pinned, c Check) { p.job.Cutter.StickOut = aHundredthLess * c.Value }
		movers["air under the cutter that comes through, least"] = lessAir
		holds(t, "holes", p, movers)
	})
	t.Run("mark", func(t *testing.T) {
		p := pinnedJob(t, b, shop, Step{Operation: Marks}, "")
		cut, err := b.MarkCut(profile.Right)
		require.NoError(t, err)
		p.mark = cut
		whole, _ := shop.engraving(p.data, p.job.Cutter, cut.Depth())
		p.again = func(p pinned) []Check {
			work, _ := p.shop.engraving(p.data, p.job.Cutter, p.job.Deepest)
			work.Rough = whole.Rough
			return p.job.markChecks(p.blade, p.shop, work, p.mark)
		}
		movers := machineMovers()
		maps.Copy(movers, map[string]mover{
			"surface speed at the effective diameter, most": func(p *pinned, c Check) { p.data.CoatedMost = aHundredthLess * c.Value },
			"feed per tooth, most":                          func(p *pinned, c Check) { p.moveFeeds(aHundredthLess * c.Value / c.Limit) },
			"feed per tooth, least":                         func(p *pinned, c Check) { p.moveFeeds(aHundredthMore * c.Value / c.Limit) },
			"depth of a level, most":                        func(p *pinned, c Check) { p.data.DepthRatioMost *= aHundredthLess * c.Value / c.Limit },
			"bending stress in the cutter, most":            func(p *pinned, c Check) { p.shop.Limits.CutterStress = aHundredthLess * c.Value },
			"deflection of the cutter in roughing, most":    func(p *pinned, c Check) { p.shop.Limits.CutterBend = aHundredthLess * c.Value },
			"depth of an engraved level, most":              func(p *pinned, c Check) { p.job.SideLevel = aHundredthMore * c.Limit },
			"depth of the mark on the bar over the ball's diameter, most": func(p *pinned, c Check) {
				p.job.Deepest = aHundredthMore * c.Limit * 2 * p.job.Cutter.Radius()
			},
			"flat around the mark, least": func(p *pinned, c Check) { p.mark.Radius += c.Value - aHundredthLess*c.Limit },
			"fuller under the mark, most": func(p *pinned, c Check) {
				k := limitsKnife()
				k.Fullers[0].Start, k.Fullers[0].Depth, k.Mark.FromSpine = profile.Some(8), profile.Some(0.3), profile.Some(9)
				p.blade = mustBuild(t, k)
				p.mark, _ = p.blade.MarkCut(profile.Right)
			},
		})
		holds(t, "mark", p, movers)
	})
}

// TestEachLimitOfCornersStopsAlone: the same for programs that mill corners alone.
func TestEachLimitOfCornersStopsAlone(t *testing.T) {
	five := endMill("square 5", 5, 0)
	five.FluteLength = 8
	b, shop := cornered(t, five, smallMill())
	for _, operation := range []Operation{Shoulders, Slot} {
		after := firstJob(t, b, shop, operation, "square 5")
		w, ok := cornerWorkAfter(b, shop, after)
		require.True(t, ok)
		job, why := w.planWith(shop, smallMill())
		require.Empty(t, why)
		passes := cornerPasses(w.corners[0], w.from, w.to(job.Cutter), job.Cutter.Radius())
		p := pinned{job: *job, blade: b, shop: shop, data: w.data, corner: w, side: w.sidePlan(shop, job.Cutter, passes)}
		p.again = func(p pinned) []Check {
			p.corner.data = p.data
			p.corner.checks = func(j *Job) []Check { return nil } // those of the operation itself
			return p.corner.jobChecks(&p.job, p.shop, p.side)
		}
		movers := sideMovers()
		movers["contact of the cutter in a corner, most"] = func(p *pinned, c Check) {
			angle := aHundredthMore * contactMost
			p.side.beside = p.job.Cutter.Radius() * (1 - math.Cos(angle))
			p.shop.Limits.CutterBendFinishing *= 2 // it bends more
		}
		movers["deflection of the cutter in a corner, most"] = func(p *pinned, c Check) { p.shop.Limits.CutterBendFinishing = aHundredthLess * c.Value }
		movers["bending stress in the cutter, most"] = func(p *pinned, c Check) { p.shop.Limits.CutterStress = aHundredthLess * c.Value }
		movers["air under the cutter that comes through, least"] = lessAir
		holds(t, string(operation)+" corners", p, movers)
	}
}

// outOfTheJaws lets the bar stand so high that nothing of it is held: by less it only
// cautions.
func outOfTheJaws(p *pinned, c Check) {
	p.shop.Parallels = []Parallel{{p.shop.Parallels[0].Height + aHundredthMore*c.Value}}
}

// nearerJaws makes the work so narrow that the cutter comes too near to the jaw that moves.
func nearerJaws(p *pinned, c Check) {
	narrow, wide := 0.0, p.job.Setup.Width
	for range 60 {
		p.job.Setup.Width = (narrow + wide) / 2
		if p.job.toJaws(p.shop.Vise, p.job.Stand(p.shop).Above) < aHundredthLess*c.Limit {
			narrow = p.job.Setup.Width
		} else {
			wide = p.job.Setup.Width
		}
	}
	p.job.Setup.Width = narrow
}

// lessAir lowers jaws and parallels alike until too little air is left.
func lessAir(p *pinned, c Check) {
	less := c.Value - aHundredthLess*c.Limit
	p.shop.Vise.JawHeight -= less
	p.shop.Parallels = slices.Clone(p.shop.Parallels)
	for i := range p.shop.Parallels {
		p.shop.Parallels[i].Height -= less
	}
}

func flatterRamp(p *pinned, c Check) {
	p.shop.Limits.Ramp = geom.Angle(aHundredthLess*c.Value) * geom.Degree
}
