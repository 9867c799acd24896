package mismatch

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestWorkedBudgets: derived by hand from the two ways of turning the bar.
func TestWorkedBudgets(t *testing.T) {
	// A jaw indicated half a thousandth over six inches: over a groove of 150 mm the
	// faces differ in slope by a fortieth of a millimetre.
	swept := Errors{JawSweep: .0005 / 6}
	groove := Feature{Length: 150, FromMiddle: 80, FromTouch: 170, FromWidth: 170}
	for _, m := range []Mismatch{AboutX(swept, groove), AboutY(swept, groove)} {
		assert.InDelta(t, .025, m.Askew.Worst(), 1e-9)
	}
	// Root of the sum of squares: √(.05² + .02² + 2·.005² + 2·.005²), √(2·.005² + 2·.005²).
	e := Errors{BarWidth: .05, YZero: .01, Seating: .005, Readout: .005}
	assert.InDelta(t, .0548, AboutX(e, groove).Across.Likely(), 5e-5)
	assert.InDelta(t, .0100, AboutY(e, groove).Across.Likely(), 1e-9)
	// At worst both clampings err apart: .05 + .02 + 2·.005 + 2·.005.
	assert.InDelta(t, .09, AboutX(e, groove).Across.Worst(), 1e-12)
	// A bar set as 32 that is 32.04, with a groove programmed 16 from the jaw twice.
	wide := Errors{BarWidth: 32.04 - 32}
	assert.InDelta(t, .040, AboutX(wide, groove).Across.Worst(), 1e-12)
	assert.Zero(t, AboutY(wide, groove).Across.Worst())
}

// TestEachErrorGoesWhereItBelongs: which flip carries which error, one at a time.
func TestEachErrorGoesWhereItBelongs(t *testing.T) {
	type row struct {
		acrossX, alongX, acrossY, alongY float64
	}
	const u, middle, touch = .01, 80.0, 120.0
	for name, c := range map[string]struct {
		errors Errors
		want   row
	}{
		"width of the bar":      {Errors{BarWidth: u}, row{u, 0, 0, 0}},
		"length of the bar":     {Errors{BarLength: u}, row{0, 0, 0, u}},
		"zero at the jaw":       {Errors{YZero: u}, row{2 * u, 0, 0, 0}},
		"zero at the stop":      {Errors{Stop: u}, row{0, 0, 0, 2 * u}},
		"edges not parallel":    {Errors{EdgesNotParallel: u}, row{u * touch, 0, 0, 0}},
		"sweep of the jaw":      {Errors{JawSweep: u}, row{2 * u * touch, 0, 2 * u * middle, 0}},
		"seating":               {Errors{Seating: u}, row{2 * u, 2 * u, 2 * u, 2 * u}},
		"step of the readout":   {Errors{Readout: u}, row{2 * u, 2 * u, 2 * u, 2 * u}},
		"side-shift of the cut": {Errors{SideShift: u}, row{2 * u, 0, 2 * u, 0}},
	} {
		f := Feature{FromMiddle: middle, FromTouch: touch, FromWidth: touch, Opposed: true}
		x, y := AboutX(c.errors, f), AboutY(c.errors, f)
		got := row{x.Across.Worst(), x.Along.Worst(), y.Across.Worst(), y.Along.Worst()}
		assert.Equal(t, c.want, got, name)
		for _, b := range []Budget{x.Across, x.Along, y.Across, y.Along} {
			for _, p := range b {
				assert.Equal(t, name, p.Source)
			}
		}
		f.Opposed = false
		assert.Equal(t, name == "side-shift of the cut", AboutX(c.errors, f).Across.Worst() == 0 && c.want.acrossX > 0, name)
	}
}

// TestDepthAndWeb: derived; a face that is touched leaves the error of the thickness to
// the web, one taken from the parallels takes it into its own depth.
func TestDepthAndWeb(t *testing.T) {
	e := Errors{BarThickness: .03, Readout: .005, BarLength: .2, Stop: .05}
	touched := AboutY(e, Feature{FloorSlope: -.01})
	// Along: .2 + 2·.05 + 2·.005 = .31, of which a hundredth goes into the depth.
	assert.InDelta(t, 2*.005+.0031, touched.Depth.Worst(), 1e-12)
	assert.InDelta(t, 2*.005+.0031+.03, touched.WebLoss.Worst(), 1e-12)
	assert.InDelta(t, math.Sqrt(2*.005*.005+1e-4*(.2*.2+.1*.1+2*.005*.005)), touched.Depth.Likely(), 1e-12)
	parallels := AboutY(e, Feature{FloorSlope: .01, OnParallels: true})
	assert.InDelta(t, touched.WebLoss.Worst(), parallels.Depth.Worst(), 1e-12)
	assert.InDelta(t, touched.Depth.Worst(), parallels.WebLoss.Worst(), 1e-12)
	assert.InDelta(t, 2*.005, AboutX(e, Feature{}).Depth.Worst(), 1e-12, "a level floor does not mind where it lies along")
}

// plane is a place on the bar, or in the machine.
type plane struct{ x, y float64 }

func (p plane) turned(angle float64) plane {
	sin, cos := math.Sincos(angle)
	return plane{p.x*cos - p.y*sin, p.x*sin + p.y*cos}
}

func (p plane) plus(q plane) plane { return plane{p.x + q.x, p.y + q.y} }

// draw is one throw of the dice: every error in its range, both clampings apart.
type draw struct {
	width, length, yZero, xZero, sweep, taper, shift float64
	seat, zero                                       [2]plane
}

func (e Errors) draw(r *rand.Rand) draw {
	any := func(most float64) float64 { return most * (2*r.Float64() - 1) }
	d := draw{width: any(e.BarWidth), length: any(e.BarLength), yZero: any(e.YZero), xZero: any(e.Stop),
		sweep: any(e.JawSweep), taper: any(e.EdgesNotParallel), shift: e.SideShift * r.Float64()}
	for i := range 2 {
		d.seat[i], d.zero[i] = plane{any(e.Seating), any(e.Seating)}, plane{any(e.Readout), any(e.Readout)}
	}
	return d
}

const barLength, barWidth = 200.0, 32.0

// touchPlace is the place of the bar, from its first end, that is touched for X.
const touchPlace = 9.0

// touched is what a setup with X touched does to a place along: the bar's end, its length
// and its seat at the stop do not matter; the touch is off alike each time, and anew.
func (d draw) touched(setup int, aboutX bool, x float64, again [2]float64) float64 {
	program, place := x, touchPlace
	if setup == 1 && !aboutX {
		program, place = barLength-x, barLength-touchPlace
	}
	fromTouch := program - place + d.xZero + d.zero[setup].x + again[setup]
	if setup == 1 && !aboutX {
		fromTouch = -fromTouch
	}
	return touchPlace + fromTouch
}

// TestTouchedInX plays both setups through with X touched at one place of the bar: the
// faces never differ along by more than the worst case, come near it, and as a whole
// differ like the root of the sum of squares.
func TestTouchedInX(t *testing.T) {
	e := Errors{BarLength: .3, Stop: .015, Seating: .05, Readout: .004, XTouched: true, XTouch: .02}
	r := rand.New(rand.NewPCG(13, 17))
	for _, aboutX := range []bool{true, false} {
		predicted := AboutY(e, Feature{}).Along
		if aboutX {
			predicted = AboutX(e, Feature{}).Along
		}
		most, squares := 0.0, 0.0
		const throws = 40000
		for range throws {
			d := e.draw(r)
			again := [2]float64{e.XTouch * (2*r.Float64() - 1), e.XTouch * (2*r.Float64() - 1)}
			off := d.touched(1, aboutX, 150, again) - d.touched(0, aboutX, 150, again)
			most, squares = math.Max(most, math.Abs(off)), squares+off*off
		}
		assert.LessOrEqual(t, most, predicted.Worst()+1e-9)
		assert.Greater(t, most, .8*predicted.Worst())
		assert.InEpsilon(t, predicted.Likely()/math.Sqrt(3), math.Sqrt(squares/throws), .03)
	}
	// √(2·.02² + 2·.004²) about X; and twice the stop's .015 about Y.
	assert.InDelta(t, math.Sqrt(2*.02*.02+2*.004*.004), AboutX(e, Feature{}).Along.Likely(), 1e-12)
	assert.InDelta(t, 2*.015+2*.02+2*.004, AboutY(e, Feature{}).Along.Worst(), 1e-12)
	assert.Zero(t, AboutX(Errors{Seating: .05, XTouched: true}, Feature{}).Along.Worst())
	assert.NotZero(t, AboutX(Errors{Seating: .05, XTouched: true}, Feature{}).Across.Worst(), "the jaw is still what it seats against")
}

// cut plays a setup through: a place of the blade, of a bar as it was set, is programmed
// in the machine, and comes out where the bar really is. The bar's own frame has its
// first edge at y = 0 and its first end at x = 0; its second edge lies off by the width's
// error, askew by the taper about the end where it is measured.
func (d draw) cut(setup int, aboutX bool, at plane, feed float64) plane {
	program := at
	switch {
	case setup == 1 && aboutX:
		program.y = barWidth - at.y
	case setup == 1:
		program.x = barLength - at.x
	}
	// The jaw lies at y = 0 but for its sweep, the stop at x = 0; zeros and seats err.
	machine := program.plus(plane{d.xZero, d.yZero}).plus(d.zero[setup]).plus(plane{0, d.shift * feed})
	onBar := machine.plus(plane{-d.seat[setup].x, -d.seat[setup].y}).turned(-d.sweep)
	switch {
	case setup == 1 && aboutX: // measured from the second edge, across
		onBar = onBar.turned(d.taper)
		return plane{onBar.x, barWidth + d.width - onBar.y}
	case setup == 1: // from the second end, back along
		return plane{barLength + d.length - onBar.x, onBar.y}
	}
	return onBar
}

// TestAgainstTwoSetups plays both setups through with errors thrown at random, for a
// groove from 20 to 170 mm along a bar of 200 that is touched at the stop's end: the
// faces never differ by more than the worst case, come near it, and as a whole differ
// like the root of the sum of squares.
func TestAgainstTwoSetups(t *testing.T) {
	e := Errors{BarWidth: .05, BarLength: .06, YZero: .01, Stop: .015, Seating: .005, Readout: .004, JawSweep: 2e-4, EdgesNotParallel: 3e-4, SideShift: .01}
	feature := Feature{Length: 150, FromMiddle: 80, FromTouch: 170, FromWidth: 170}
	r := rand.New(rand.NewPCG(3, 5))
	for _, aboutX := range []bool{true, false} {
		for _, feature.Opposed = range []bool{true, false} {
			// The left of the feed is the same way across on both faces after a turn
			// about Y, the other way after one about X.
			predicted, end, same := AboutY(e, feature), 20.0, 1.0
			if aboutX {
				predicted, end, same = AboutX(e, feature), 170, -1
			}
			if feature.Opposed {
				same = -same
			}
			var most, squares plane
			const throws = 40000
			for range throws {
				d := e.draw(r)
				m := d.mismatch(aboutX, end, same)
				most = plane{math.Max(most.x, math.Abs(m.x)), math.Max(most.y, math.Abs(m.y))}
				squares = squares.plus(plane{m.x * m.x, m.y * m.y})
				askew := d.mismatch(aboutX, 170, same).y - d.mismatch(aboutX, 20, same).y
				assert.LessOrEqual(t, math.Abs(askew), predicted.Askew.Worst()+1e-4)
			}
			assert.LessOrEqual(t, most.y, predicted.Across.Worst()+1e-4)
			assert.Greater(t, most.y, .6*predicted.Across.Worst())
			// What lies across is turned along by the angles.
			turned := barWidth * (2*e.JawSweep + e.EdgesNotParallel)
			assert.LessOrEqual(t, most.x, predicted.Along.Worst()+turned)
			assert.Greater(t, most.x, .6*predicted.Along.Worst())
			// An even throw over a range has a third of the square of its greatest.
			if !feature.Opposed {
				assert.InEpsilon(t, predicted.Across.Likely()/math.Sqrt(3), math.Sqrt(squares.y/throws), .03)
			}
			if !aboutX {
				assert.InEpsilon(t, predicted.Along.Likely()/math.Sqrt(3), math.Sqrt(squares.x/throws), .03)
			}
		}
	}
}

// mismatch is where the second face's cut of a place lies against the first face's.
func (d draw) mismatch(aboutX bool, x, feed float64) plane {
	at := plane{x, barWidth / 2}
	one, two := d.cut(0, aboutX, at, 1), d.cut(1, aboutX, at, feed)
	return plane{two.x - one.x, two.y - one.y}
}

// TestShoulders: derived; 0.01 mm over 100 mm of jaw across a blade 40 mm wide.
func TestShoulders(t *testing.T) {
	s := ShoulderOf(-.01/100, 40)
	assert.InDelta(t, .004, s.Skew, 1e-12)
	assert.InDelta(t, .008, s.Gap, 1e-12)
	reading := SweepFor(.02, 40, 100)
	assert.InDelta(t, .05, reading.ForSkew, 1e-12)
	assert.InDelta(t, .025, reading.ForGap, 1e-12)
	assert.InDelta(t, .02, ShoulderOf(reading.ForSkew/100, 40).Skew, 1e-12)
	assert.InDelta(t, .02, ShoulderOf(reading.ForGap/100, 40).Gap, 1e-12)
}
