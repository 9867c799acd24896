package geom_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile/geom"
	"fullerwright/templates"
)

const (
	rounding  = 1e-9 // what closed forms lose on coordinates of some tens of mm
	tolerance = 1e-3
)

// meetingCircles returns the area under two equal circles with centres 2 apart, over the
// line between the centres, each up to where they meet.
func meetingCircles(radius float64) float64 {
	return math.Sqrt(radius*radius-1) + radius*radius*math.Asin(1/radius)
}

// tooth is what is left of a round hole with a slot 2 wide after an inset that fills the
// slot: a smaller circle, and a tooth between two circles about the corners of the slot.
type tooth struct{ hole, inset float64 }

// angles returns half the angle that the slot takes from the hole, and the angle at a
// corner between the centre of the hole and the tip of the tooth.
func (h tooth) angles() (slot, corner float64) {
	deep, tip := math.Sqrt(h.hole*h.hole-1), math.Sqrt(h.inset*h.inset-1)
	return math.Asin(1 / h.hole), math.Atan2(deep, 1) - math.Atan2(tip, 1)
}

// area adds to the sector of the smaller circle two triangles from its centre over a
// corner to the tip, less the sectors about the corners.
func (h tooth) area() float64 {
	slot, corner := h.angles()
	r := h.hole - h.inset
	deep, tip := math.Sqrt(h.hole*h.hole-1), math.Sqrt(h.inset*h.inset-1)
	return r*r*(math.Pi-slot) + (deep - tip) - h.inset*h.inset*corner
}

func (h tooth) length() float64 {
	slot, corner := h.angles()
	return 2 * ((h.hole-h.inset)*(math.Pi-slot) + h.inset*corner)
}

// TestOffsetsWithClosedForms: outward by d a convex figure gains P d + pi d² of area and
// 2 pi d of length (Steiner's formula). A concave right corner has no quarter circle, and
// the strips beside it lie upon each other over a square d²; inward the two change places.
func TestOffsetsWithClosedForms(t *testing.T) {
	// The slotted square by 1.5: over the mouth of the slot, and into the hole, circles
	// about its two corners meet.
	outer, pocket := meetingCircles(1.5), tooth{5, 1.5}
	top := meetingCircles(6)
	key := tooth{6, 3}
	// The waist is 2 wide: circles of radius 2 about its corners leave a tooth.
	dent := 2*2 - math.Sqrt(3) - 2*math.Pi/3
	for name, row := range map[string]struct {
		chain        geom.Chain
		distance     float64
		areas        []float64 // the longest loop first
		length       float64   // of the first
		lines, round int       // pieces of the first
	}{
		"square outward":       {square(t), 2, []float64{100 + 40*2 + math.Pi*4}, 40 + 4*math.Pi, 4, 4},
		"square inward":        {square(t), -2, []float64{36}, 24, 4, 0},
		"square nearly gone":   {square(t), -4.99, []float64{0.0004}, 0.08, 4, 0},
		"circle outward":       {closed(t, circle(4)), 3, []float64{49 * math.Pi}, 14 * math.Pi, 0, 1},
		"circle inward":        {closed(t, circle(4)), -3, []float64{math.Pi}, 2 * math.Pi, 0, 1},
		"L outward":            {lShape(t), 2, []float64{300 + 80*2 + 5*math.Pi - 4}, 80 - 4 + 5*math.Pi, 6, 5},
		"L inward":             {lShape(t), -2, []float64{300 - 80*2 + 5*4 - math.Pi}, 80 - 5*4 + math.Pi, 6, 1},
		"stadium outward":      {stadium(t), 3, []float64{30*16 + 64*math.Pi}, 60 + 16*math.Pi, 2, 2},
		"stadium inward":       {stadium(t), -3, []float64{30*4 + 4*math.Pi}, 60 + 4*math.Pi, 2, 2},
		"stadium nearly gone":  {stadium(t), -4.9999, []float64{30*0.0002 + math.Pi*1e-8}, 60 + math.Pi*2e-4, 2, 2},
		"ends of arcs gone":    {keyhole(t), -3, []float64{key.area()}, key.length(), 0, 3},
		"cusp":                 {fin(t), 1, []float64{50 - 25*math.Pi/4 + 20 + 2.5*math.Pi + math.Pi}, 20 + 4.5*math.Pi, 3, 5},
		"notch stays open":     {notched(t), 1, []float64{1560 + 180 - 2 + 6*math.Pi/4}, 180 - 4 + 3*math.Pi, 8, 6},
		"waist closes":         {waisted(t), -2, []float64{36 + dent, 36 + dent}, 22 + 2*math.Pi/3, 5, 2},
		"hole becomes pocket":  {slotted(t), 1.5, []float64{1600 + 240 + 2.25*math.Pi - 3 + outer, -pocket.area()}, 158 + 3*math.Pi + 3*math.Asin(1/1.5), 5, 6},
		"hole and slot filled": {slotted(t), 6, []float64{1600 + 960 + 36*math.Pi - 12 + top}, 158 + 12*math.Pi + 12*math.Asin(1.0/6), 5, 6},
		"slot just filled":     {notched(t), 2, []float64{1600 + 320 + 4*math.Pi - 8 + 2*math.Pi}, 156 + 6*math.Pi, 5, 6},
		"waist just closes":    {waisted(t), -1, []float64{64 + 2 - math.Pi/2, 64 + 2 - math.Pi/2}, 30 + math.Pi, 5, 2},
	} {
		for _, c := range []geom.Chain{row.chain, row.chain.Reverse()} {
			loops, err := c.Offset(row.distance, tolerance)
			require.NoError(t, err, name)
			require.Len(t, loops, len(row.areas), name)
			for i, area := range row.areas {
				assert.InDelta(t, math.Copysign(1, c.Area())*area, loops[i].Area(), rounding, name)
			}
			assert.InDelta(t, row.length, loops[0].Length(), rounding, name)
			lines, round := kinds(loops[0])
			assert.Equal(t, [2]int{row.lines, row.round}, [2]int{lines, round}, "%s: lines and arcs", name)
		}
	}
}

// kinds counts the lines and arcs of a chain.
func kinds(c geom.Chain) (lines, round int) {
	for _, p := range c.Pieces() {
		if _, isLine := p.(geom.Line); isLine {
			lines++
		} else if _, isArc := p.(geom.Arc); isArc {
			round++
		}
	}
	return lines, round
}

// checkOffset holds offsets of a chain against a fine polyline in its place: every
// point of them lies at the distance within the tolerance, none crosses itself, and of
// points all over the plane just those count as within that are.
func checkOffset(t *testing.T, c geom.Chain, distance float64, loops []geom.Chain) {
	t.Helper()
	const sampling = 2e-5
	fine := c.Sample(sampling)
	worst := 0.0
	for _, loop := range loops {
		require.True(t, loop.Closed())
		assert.Empty(t, loop.SelfCrossings())
		for _, p := range loop.Sample(0.02) {
			worst = math.Max(worst, math.Abs(away(fine, p)-math.Abs(distance)))
		}
		for _, piece := range loop.Pieces() {
			worst = math.Max(worst, math.Abs(away(fine, piece.At(0.5))-math.Abs(distance)))
		}
	}
	assert.LessOrEqual(t, worst, tolerance+sampling, "from the distance, at %g", distance)
	random := rand.New(rand.NewPCG(21, 22))
	box := c.Bounds()
	reach := math.Abs(distance) + 1
	for range 200 {
		p := geom.Point{X: box.Min.X - reach + random.Float64()*(box.Max.X-box.Min.X+2*reach), Y: box.Min.Y - reach + random.Float64()*(box.Max.Y-box.Min.Y+2*reach)}
		far, inside := away(fine, p), c.Contains(p)
		if math.Abs(far-math.Abs(distance)) < 2*tolerance || far < sampling {
			continue
		}
		within := false
		for _, loop := range loops {
			within = within != loop.Contains(p)
		}
		if distance > 0 {
			assert.Equal(t, inside || far < distance, within, "%v, %g from the chain, offset by %g", p, far, distance)
		} else {
			assert.Equal(t, inside && far > -distance, within, "%v, %g from the chain, offset by %g", p, far, distance)
		}
	}
}

// TestOffsetsOfThePatterns: the outlines of all the patterns, outward.
func TestOffsetsOfThePatterns(t *testing.T) {
	for _, name := range templates.Names() {
		c := outlineOf(t, name)
		for _, distance := range []float64{0.1, 0.5, 1, 2, 5, -0.5} {
			loops, err := c.Offset(distance, tolerance)
			if assert.NoError(t, err, "%s by %g", name, distance) {
				t.Run(name, func(t *testing.T) { checkOffset(t, c, distance, loops) })
			}
		}
	}
}

// TestOffsetsOfCusps: where a chain turns straight back only the curves beside the point
// tell which side is outside. The cubic has a cusp at its middle.
func TestOffsetsOfCusps(t *testing.T) {
	at := func(x, y float64) geom.Point { return geom.Point{X: x, Y: y} }
	cusp := geom.Cubic{P0: at(0, 0), P1: at(10, 10), P2: at(0, 10), P3: at(10, 0)}
	for _, c := range []geom.Chain{fin(t), slit(t), closed(t, cusp.Reverse(), geom.Line{From: at(0, 0), To: at(10, 0)}),
		closed(t, cusp, geom.Line{From: at(10, 0), To: at(10, 20)}, geom.Line{From: at(10, 20), To: at(0, 20)}, geom.Line{From: at(0, 20), To: at(0, 0)})} {
		for _, distance := range []float64{0.1, 1, -0.1, -0.5} {
			loops, err := c.Offset(distance, tolerance)
			require.NoError(t, err)
			checkOffset(t, c, distance, loops)
		}
	}
}

// TestAreaGrowsByTheLength: while a curve is offset its area grows at the rate of its
// length.
func TestAreaGrowsByTheLength(t *testing.T) {
	for _, name := range templates.Names() {
		c := outlineOf(t, name)
		const step = 1e-2
		area := func(distance float64) (sum float64) {
			loops, err := c.Offset(distance, 1e-5)
			require.NoError(t, err)
			for _, loop := range loops {
				sum += loop.Area()
			}
			return sum
		}
		loops, err := c.Offset(1, 1e-5)
		require.NoError(t, err)
		length := 0.0
		for _, loop := range loops {
			length += loop.Length()
		}
		assert.InEpsilon(t, length, (area(1+step)-area(1-step))/(2*step), 1e-4, name)
	}
}

// TestOffsetsOfRandomChains goes outward and inward until nothing is left.
func TestOffsetsOfRandomChains(t *testing.T) {
	random := rand.New(rand.NewPCG(31, 32))
	tried := 0
	for tried < 40 {
		c, good := star(random)
		if !good {
			continue
		}
		tried++
		for _, distance := range []float64{0.3, 1.5, 6, -0.2, -0.8, -2} {
			checkOffset(t, c, distance, offsetOrNothing(t, c, distance))
		}
	}
}

// offsetOrNothing returns no chains where an offset inward leaves nothing.
func offsetOrNothing(t *testing.T, c geom.Chain, distance float64) []geom.Chain {
	t.Helper()
	loops, err := c.Offset(distance, tolerance)
	if err != nil && distance < 0 {
		require.ErrorContains(t, err, "leaves nothing")
		return nil
	}
	require.NoError(t, err, "by %g", distance)
	return loops
}

// TestOffsetsThatJustTouch: by halves and wholes the offsets of figures with whole
// coordinates lie upon each other, touch, and meet three at one point; of others nearly.
func TestOffsetsThatJustTouch(t *testing.T) {
	random := rand.New(rand.NewPCG(41, 42))
	for tried := 0; tried < 40; {
		c, good := steps(random, []float64{0, 1e-6, 1e-7, 1e-9}[tried%4], 0)
		if !good {
			continue
		}
		tried++
		for _, distance := range []float64{0.5, 1, 1.5, 2, -0.5, -1, -1.5, -2} {
			checkOffset(t, c, distance, offsetOrNothing(t, c, distance))
		}
	}
}

// TestOffsetsThatNearlyMeet: sides that swell by 0.1 µm leave stretches over where
// their offsets nearly touch; none keeps the rest from closing.
func TestOffsetsThatNearlyMeet(t *testing.T) {
	random := rand.New(rand.NewPCG(42, 42))
	for range 60 {
		if c, good := steps(random, 1e-8, 1e-4); good {
			for _, distance := range []float64{0.5, 1, 1.5} {
				loops := offsetOrNothing(t, c, distance)
				assert.Greater(t, math.Abs(loops[0].Area()), math.Abs(c.Area()), "by %g", distance)
			}
		}
	}
}

// TestOffsetOfAParabola: Steiner's formula with the length of a parabola in closed
// form, the finer the tolerance the closer.
func TestOffsetOfAParabola(t *testing.T) {
	curve := geom.QuadraticAsCubic(geom.Point{}, geom.Point{X: 3, Y: 6}, geom.Point{X: 6})
	c := closed(t, geom.Line{To: geom.Point{X: 6}}, curve.Reverse())
	around := 6 + 1.5*(2*math.Sqrt(5)+math.Asinh(2))
	for _, fine := range []float64{1e-2, 1e-3, 1e-4, 1e-5} {
		loops, err := c.Offset(2, fine)
		require.NoError(t, err)
		require.Len(t, loops, 1)
		assert.InDelta(t, 12+2*around+4*math.Pi, loops[0].Area(), fine*around)
		// Tangent arcs err by the cube of their length: a thousandth of the tolerance
		// takes about ten times as many.
		lines, round := kinds(loops[0])
		assert.Equal(t, 1, lines)
		assert.Less(t, round, 2+int(4/math.Cbrt(fine)), "at a tolerance of %g", fine)
	}
}

// TestOffsetsOfNearlyTangentPieces: corners that turn by a ten-millionth leave gaps of
// under a nanometre, which are closed; a concave one that turns by 24 millionths trims
// 0.06 mm at a distance of 5 m, and what is trimmed lies 0.7 nm too near. Steiner's
// formula holds for all of them as nearly as for smooth figures.
func TestOffsetsOfNearlyTangentPieces(t *testing.T) {
	right := geom.Arc{Centre: geom.Point{X: 30, Y: 3e-6}, Radius: 5, From: -90 * geom.Degree, Sweep: 180 * geom.Degree}
	left := geom.Arc{Radius: 5, From: 90 * geom.Degree, Sweep: 180 * geom.Degree}
	tilted := closed(t, right, geom.Line{From: right.End(), To: left.Start()}, left, geom.Line{From: left.End(), To: right.Start()})
	for _, row := range []struct {
		chain    geom.Chain
		distance float64
		pieces   int
	}{
		{tilted, 5, 4}, {tilted, -2, 4},
		{corners(t, 0, 0, 50, -2.5e-6, 100, 0, 100, 100, 0, 100), 5, 9},
		{corners(t, 0, 0, 50, 6e-4, 100, 0, 100, 100, 0, 100), 5000, 9},
	} {
		loops, err := row.chain.Offset(row.distance, tolerance)
		require.NoError(t, err)
		require.Len(t, loops, 1)
		d := row.distance
		assert.InEpsilon(t, row.chain.Area()+row.chain.Length()*d+math.Pi*d*d, loops[0].Area(), 1e-8)
		assert.Len(t, loops[0].Pieces(), row.pieces)
	}
}

// TestOffsetsOfFlatCurves: figures that swell by less and less over one side, under
// what rounding leaves of the radius.
func TestOffsetsOfFlatCurves(t *testing.T) {
	at := func(x, y float64) geom.Point { return geom.Point{X: x, Y: y} }
	for swell := 0.1; swell > 1e-14; swell /= 10 {
		sides := []geom.Piece{geom.QuadraticAsCubic(at(0, 0), at(50, -2*swell), at(100, 0))}
		if swell > 1e-9 { // beyond that the radius itself is lost
			arc := geom.ArcThrough(at(0, 0), at(100, 0), -swell)
			sides = append(sides, arc)
		}
		for _, side := range sides {
			a, b := side.Start(), side.End()
			c := closed(t, side, geom.Line{From: b, To: at(100, 50)}, geom.Line{From: at(100, 50), To: at(0, 50)}, geom.Line{From: at(0, 50), To: a})
			for _, d := range []float64{0.1, 5} {
				loops, err := c.Offset(d, tolerance)
				require.NoError(t, err, "%T swelling by %g", side, swell)
				require.Len(t, loops, 1)
				assert.InDelta(t, c.Area()+c.Length()*d+math.Pi*d*d, loops[0].Area(), 100*tolerance)
			}
			loops, err := c.Offset(-5, tolerance)
			require.NoError(t, err, "%T swelling by %g", side, swell)
			assert.InDelta(t, c.Area()-c.Length()*5+100, loops[0].Area(), 100*tolerance+5*swell)
		}
	}
}

// TestOffsetOfALongFlatArc: of a radius of 2.5 km, 2 m long: chords within the tolerance.
func TestOffsetOfALongFlatArc(t *testing.T) {
	arc := geom.ArcThrough(geom.Point{}, geom.Point{X: 2000}, -0.2)
	c := closed(t, arc, geom.Line{From: arc.End(), To: geom.Point{X: 1000, Y: 500}}, geom.Line{From: geom.Point{X: 1000, Y: 500}, To: arc.Start()})
	loops, err := c.Offset(5, tolerance)
	require.NoError(t, err)
	require.Len(t, loops, 1)
	assert.InDelta(t, c.Area()+c.Length()*5+math.Pi*25, loops[0].Area(), 2000*tolerance)
}

// TestOffsetRefuses: bad input is an error, and the way out is in it.
func TestOffsetRefuses(t *testing.T) {
	open, err := geom.NewChain(geom.Line{To: geom.Point{X: 5}})
	require.NoError(t, err)
	at := func(x float64) geom.Point { return geom.Point{X: x} }
	there := geom.Line{To: at(5)}
	// An arc that leaves the origin the way the line comes in, and crosses it beside it.
	loopOf := func(size float64) geom.Chain {
		arc := geom.Arc{Centre: geom.Point{Y: -5}, Radius: 5, From: 90 * geom.Degree, Sweep: -90 * geom.Degree}
		corner := geom.Point{X: 10, Y: -size}
		return closed(t, geom.Line{From: corner, To: at(0)}, arc, geom.Line{From: arc.End(), To: corner})
	}
	for name, row := range map[string]struct {
		chain               geom.Chain
		distance, tolerance float64
		wayOut              string
	}{
		"open":                   {open, 1, tolerance, "end it where it begins"},
		"zero value":             {geom.Chain{}, 1, tolerance, "end it where it begins"},
		"crossing itself":        {corners(t, 0, 0, 4, 4, 4, 0, 0, 4), 1, tolerance, "pull it apart"},
		"there and back":         {closed(t, there, there.Reverse()), 1, tolerance, "some width"},
		"running back":           {closed(t, geom.Line{To: at(15)}, geom.Line{From: at(15), To: at(10)}, geom.ArcThrough(at(10), at(0), 2e-4)), 1, tolerance, "pull it apart"},
		"small loop":             {loopOf(0.01), 1, tolerance, "pull it apart"},
		"smaller loop":           {loopOf(0.0004), 1, tolerance, "crosses itself"},
		"far off":                {square(t).Translate(geom.Point{X: 1e6}), 1, tolerance, "bring it within"},
		"distance not a number":  {square(t), math.NaN(), tolerance, "it must be from"},
		"distance infinite":      {square(t), math.Inf(-1), tolerance, "it must be from"},
		"no distance":            {square(t), 0, tolerance, "it must be from"},
		"tolerance not a number": {square(t), 1, math.NaN(), "it must be from"},
		"tolerance too coarse":   {square(t), 1, 2, "it must be from"},
		"tolerance too fine":     {square(t), 1, 0, "it must be from"},
		"just nothing left":      {square(t), -5, tolerance, "by less"},
		"just nothing of a bar":  {corners(t, 0, 0, 30, 0, 30, 10, 0, 10), -5, tolerance, "by less"},
		"nothing left":           {square(t), -7, tolerance, "by less"},
		"nothing of a circle":    {closed(t, circle(4)), -4, tolerance, "by less"},
		"nothing of a stadium":   {stadium(t), -5, tolerance, "by less"},
	} {
		loops, err := row.chain.Offset(row.distance, row.tolerance)
		assert.ErrorContains(t, err, row.wayOut, name)
		assert.Empty(t, loops, name)
	}
}

func BenchmarkOffset(b *testing.B) {
	c := outlineOf(b, templates.Default)
	for b.Loop() {
		_, err := c.Offset(2, tolerance)
		require.NoError(b, err)
	}
}
