package profile

import (
	"math"

	"fullerwright/profile/strength"
)

// Measures are what is known of a finished knife before any steel is cut.
type Measures struct {
	Density  float64 // of the blade's steel, g/cm³
	Parts    []Part
	Whole    Weight     // blade, tang and fittings
	Blade    Weight     // blade and tang alone
	Bends    Deflection // under Force
	Force    float64    // N
	Buy      FullerBuy
	Stations []StationMeasures
	Shoulder ShoulderMeasures
	Stack    StackMeasures
}

// FullerBuy is what the fullers buy, against the same blade without them.
type FullerBuy struct {
	Grams                float64 // lighter
	BalanceShift         float64 // of the whole knife, mm, toward the handle where negative
	SidewaysKept         float64 // stiffness of the whole blade: the deflections' ratio
	EdgewiseKept         float64
	LeastSidewaysSection float64 // the section that loses most: its second moment over that without fullers
}

// StationMeasures are the properties of the blade at one distance from the guard plane.
type StationMeasures struct {
	X                float64
	Width, Thickness float64 // mm; the thickness between the bevels
	SectionProperties
	Stiffness Stiffness
	Plain     SectionProperties // without the fullers
}

// ShoulderMeasures are what the shoulder and the tang bear for a push across the
// handle's end, in the plane of the blade.
type ShoulderMeasures struct {
	Lever         float64 // from the guard plane to the end of the hilt, mm
	Nominal       float64 // stress at the tang's edge by the plain formula, N/mm² for each newton
	Concentration float64 // at the inside corner; 0 where the formula does not hold
	Outside       string  // why it does not
	Sharper       float64 // concentration with half the radius; 0 where the formula does not hold
	StandOff      float64 // of a guard with a sharp slot, mm
	ChamferNeeded float64 // of the slot's front rim, mm
	Hidden        bool    // whether the steps hide it
	Slot          strength.Slot
	SlotMeasured  bool       // from the tang as measured
	Bearing       [2]float64 // of the guard on the shoulder above and below the tang, mm²
	RootUnderTang float64    // stress area of the thread over the tang's end section; 0 without a thread
}

// StackMeasures say how the parts of the hilt fit on the tang, mm.
type StackMeasures struct {
	Stack
	Thread     Thread
	Threaded   bool
	Engagement float64 // of the thread in the pommel
	Wanted     float64 // one and a half diameters (common practice, no source)
	WallLeft   float64 // of the pommel beside the hole, where it is thinnest
	Bottoms    float64 // how far the rod stands too deep in a blind hole, 0 where it does not
	Behind     float64 // of the pommel behind the depth of a blind hole; +Inf where it goes right through
	StandsOut  float64 // how far the rod reaches out of the end of the pommel, 0 where it does not
}

// pointForce is the load of the stated deflection, N: about a kilogram hung from the
// point.
const pointForce = 10

// measureStations is how many stations the measures are given at.
const measureStations = 9

// Measure returns the measures of a knife for a density of its steel, g/cm³.
func (b Blade) Measure(density float64) Measures {
	length := b.Knife.Blade.Length
	var blade, solid Body // with its fullers and without them
	var bends, stiff Deflection
	b.along(0, length, func(with, plain slice) {
		blade, solid = blade.plus(with.body()), solid.plus(plain.body())
		bends, stiff = bends.plus(with, length, pointForce), stiff.plus(plain, length, pointForce)
	})
	finished, rest := b.finished(), b.behindGuard(density)
	with := func(blade Body, rest []Part) []Part {
		return append([]Part{newPart("blade", density, blade)}, rest...)
	}
	m := Measures{Density: density, Parts: with(blade, rest), Force: pointForce, Bends: bends}
	m.Whole, m.Blade = WeightOf(m.Parts), WeightOf(steelOf(m.Parts))
	if finished.through {
		bare := b
		bare.Fullers = nil
		rest = bare.behindGuard(density)
	}
	without := WeightOf(with(solid, rest))
	m.Buy = FullerBuy{Grams: without.Mass - m.Whole.Mass, BalanceShift: m.Whole.X - without.X,
		SidewaysKept: stiff.Sideways / m.Bends.Sideways, EdgewiseKept: stiff.Edgewise / m.Bends.Edgewise, LeastSidewaysSection: 1}
	curved := twelvePoints().crowded()
	for i := range measureStations {
		c := b.ground.section(length * float64(i) / measureStations)
		finished.cut(&c)
		m.Stations = append(m.Stations, c.measures(&curved))
	}
	for i := range b.Fullers {
		f := &b.Fullers[i]
		for _, x := range []float64{f.StartFull, (f.StartFull + f.EndFull) / 2, f.EndFull} {
			c := b.ground.section(x)
			finished.cut(&c)
			s := c.measures(&curved)
			m.Buy.LeastSidewaysSection = math.Min(m.Buy.LeastSidewaysSection, s.Flat/s.Plain.Flat)
		}
	}
	m.Shoulder, m.Stack = b.ShoulderMeasures(), b.Knife.StackMeasures()
	return m
}

// steelOf returns the parts that are of the blade's own steel.
func steelOf(parts []Part) []Part {
	var out []Part
	for _, p := range parts {
		if p.Name == "blade" || p.Name == "tang" || p.Name == "threaded extension" {
			out = append(out, p)
		}
	}
	return out
}

// MeasureAt returns the properties of the blade at x.
func (b Blade) MeasureAt(x float64) StationMeasures {
	c := b.CrossSectionAt(x)
	curved := twelvePoints().crowded()
	return c.measures(&curved)
}

// measures returns the properties of a section; the rule is the one for curved pieces.
func (c *CrossSection) measures(curved *rule) StationMeasures {
	p, plain := c.properties(curved)
	return StationMeasures{X: c.X, Width: c.Top - c.Bottom, Thickness: 2 * c.Flat, SectionProperties: p,
		Stiffness: p.Stiffness(), Plain: plain}
}

// ShoulderMeasures works out what the shoulder bears. The two steps are taken as the
// lower of them on both sides, which is the sharper case for one radius.
func (b Blade) ShoulderMeasures() ShoulderMeasures {
	k := b.Knife
	thickness := k.tangStations().value(0)
	stack := k.StackUp()
	s := ShoulderMeasures{Lever: stack.Pommel, StandOff: strength.StandOff(k.Tang.CornerRadius, k.Guard.Clearance),
		ChamferNeeded: strength.ChamferNeeded(k.Tang.CornerRadius, k.Guard.Clearance),
		Slot:          strength.SlotFor(b.real.TangWidth.Or(k.Tang.Width), b.real.TangThickness.Or(thickness), k.Guard.Clearance),
		SlotMeasured:  b.real.TangWidth.Known || b.real.TangThickness.Known}
	if stack.Handle <= stack.Guard {
		s.Lever = k.Tang.Length
	}
	s.Nominal = strength.BendingStress(1, s.Lever, strength.Flat{Width: k.Tang.Width, Thickness: thickness})
	lower := math.Min(k.ShoulderTop(), k.ShoulderBottom())
	step := strength.Step{Wide: k.Tang.Width + 2*lower, Narrow: k.Tang.Width, Radius: k.Tang.CornerRadius}
	if kt, err := strength.Concentration(strength.Bending, step); err != nil {
		s.Outside = err.Error()
	} else {
		s.Concentration = kt
	}
	step.Radius /= 2
	if kt, err := strength.Concentration(strength.Bending, step); err == nil {
		s.Sharper = kt
	}
	s.Hidden = lower >= s.ChamferNeeded+strength.CoverMargin || s.ChamferNeeded == 0
	for i, height := range []float64{k.ShoulderTop(), k.ShoulderBottom()} {
		s.Bearing[i] = math.Max(0, height-math.Max(k.Tang.CornerRadius, k.Guard.Chamfer)) * k.Blade.Thickness
	}
	if thread, err := k.thread(); err == nil {
		end := k.tangStations().value(-k.Tang.Length)
		s.RootUnderTang = thread.StressArea() / (k.Tang.EndWidth * end)
	}
	return s
}

// StackMeasures works out how the parts of the hilt fit on the tang.
func (k Knife) StackMeasures() StackMeasures {
	s := StackMeasures{Stack: k.StackUp()}
	thread, err := k.thread()
	if err != nil || k.Pommel.Length <= 0 {
		return s
	}
	s.Thread, s.Threaded, s.Wanted = thread, true, 1.5*thread.Major
	hole := k.Pommel.HoleDepth
	if hole == 0 {
		hole = k.Pommel.Length
	}
	s.Behind = math.Inf(1)
	if k.Pommel.HoleDepth > 0 {
		s.Behind = k.Pommel.Length - hole
		hole = math.Min(hole, k.Pommel.Length)
	}
	reach := s.Rod - s.Handle // of the rod into the pommel
	s.Engagement = math.Max(0, math.Min(math.Min(reach, hole), s.Rod-math.Max(s.Tang, s.Handle)))
	s.WallLeft = (math.Min(k.Pommel.Width, k.Pommel.Thickness) - thread.Major) / 2
	if k.Pommel.HoleDepth > 0 {
		s.Bottoms = math.Max(0, reach-k.Pommel.HoleDepth)
	}
	s.StandsOut = math.Max(0, reach-k.Pommel.Length)
	return s
}
