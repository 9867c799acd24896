package toolpath

import "fullerwright/toolpath/cutting"

// tool returns the cutter as it bends and cuts.
func (c Cutter) tool() cutting.Tool {
	t := cutting.Tool{Diameter: 2 * c.Radius(), FluteLength: c.FluteLength, ShankDiameter: c.ShankDiameter, StickOut: c.StickOut,
		RunOut: c.RunOut, Flutes: c.Flutes, Material: cutting.UncoatedCarbide}
	switch {
	case c.Material == "hss":
		t.Material = cutting.HighSpeedSteel
	case c.Coated:
		t.Material = cutting.CoatedCarbide
	}
	return t
}

// stickOutShare returns the part of depth and feed that a long cutter may take.
func stickOutShare(c Cutter) float64 { return c.tool().StickOutShare() }

// surfaceSpeed returns the surface speed to start with for a cutter's material.
func surfaceSpeed(data cutting.Data, c Cutter) float64 { return data.Speeds(c.tool().Material).Start }

// surfaceRange returns the range of surface speeds for a cutter's material.
func surfaceRange(data cutting.Data, c Cutter) (lo, hi float64) {
	speeds := data.Speeds(c.tool().Material)
	return speeds.Least, speeds.Most
}
