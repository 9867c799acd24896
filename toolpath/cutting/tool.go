package cutting

import (
	"fmt"
	"math"
)

// ToolMaterial is what a cutter is made of.
type ToolMaterial string

// The materials of cutters.
const (
	CoatedCarbide   ToolMaterial = "coated carbide"
	UncoatedCarbide ToolMaterial = "uncoated carbide"
	HighSpeedSteel  ToolMaterial = "high-speed steel"
)

// Tool is a cutter as it bends and cuts, in millimetres; RunOut is the total indicator
// reading at its tip.
type Tool struct {
	Diameter, FluteLength   float64
	ShankDiameter, StickOut float64
	RunOut                  float64
	Flutes                  int
	Material                ToolMaterial
}

// StickOutShare returns the part of depth and feed that a long cutter may take: 0.7 for
// each four diameters of slender stick-out beyond four (judgement inside makers' tables of
// feeds by reach).
func (t Tool) StickOutShare() float64 {
	return math.Pow(0.7, math.Max(0, t.slender()/t.Diameter-4)/4)
}

// slender returns how far a cutter of one diameter all along stands out that bends as much
// as this one does above whose flutes a thicker shank begins, mm: the cube root of
// Lf³ + (L³ - Lf³)·(D/Ds)⁴. Derived from the beam of Deflection. A shank thinner than the
// cutter counts as one as thick.
func (t Tool) slender() float64 {
	if t.ShankDiameter <= t.Diameter {
		return t.StickOut
	}
	fluted, whole := math.Pow(t.fluted(), 3), math.Pow(t.StickOut, 3)
	return math.Cbrt(fluted + (whole-fluted)*math.Pow(t.Diameter/t.ShankDiameter, 4))
}

// Refusal says why a steel is not to be cut so, and what would do.
type Refusal struct{ Reason, Remedy string }

// Error says both in one line.
func (r *Refusal) Error() string { return fmt.Sprintf("%s; %s", r.Reason, r.Remedy) }
