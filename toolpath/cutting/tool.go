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
// each four diameters of stick-out beyond four (judgement inside makers' tables of feeds
// by reach).
func (t Tool) StickOutShare() float64 {
	return math.Pow(0.7, math.Max(0, t.StickOut/t.Diameter-4)/4)
}

// Refusal says why a steel is not to be cut so, and what would do.
type Refusal struct{ Reason, Remedy string }

// Error says both in one line.
func (r *Refusal) Error() string { return fmt.Sprintf("%s; %s", r.Reason, r.Remedy) }
