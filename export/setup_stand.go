package export

import (
	"fmt"

	"fullerwright/profile"
	"fullerwright/toolpath"
	"fullerwright/toolpath/motion"
)

// sayParallels says which parallels to lay in, and how high the work then stands.
func (c *setupContent) sayParallels(piece string) string {
	u, stand := c.units, c.job.Stand(c.sheet.Shop)
	above := fmt.Sprintf("the top of the %s stands %s above the jaws", piece, u.with(stand.Above))
	if len(c.job.Beds(c.sheet.Shop.Vise)) > 0 {
		above += " where it is thickest"
	}
	if !stand.Known() {
		return "such that " + above + " (the shop file has no jaw_height and [[parallels]] to choose by)"
	}
	place := "between the ends of the jaws"
	if c.job.Step.Operation == toolpath.Holes || c.job.Step.Operation == toolpath.Slot {
		place = "along both long sides, nowhere under the cut"
	}
	return fmt.Sprintf("the pair %s high, %s; %s", u.with(stand.Parallels), place, above)
}

// sayXZero says what is touched for X.
func (c *setupContent) sayXZero(piece string) string {
	s := c.job.Setup
	places := map[profile.XZeroKind]string{profile.DowelZero: "its middle", profile.LineZero: "the line", profile.FlatZero: "its face"}
	switch {
	case s.MakesXZero:
		return fmt.Sprintf("X: left end of the %s, this once: from here on a dowel in the hole drilled here, which stands at X %s now, is touched for X in every program", piece, c.units.length(s.Placement.Work(motion.Vec{X: c.sheet.Blade.Bar.XZero.X}).X))
	case s.XZero.Touched():
		return fmt.Sprintf("X: the butt is rough, so touch the %s: %s stands at X %s; the same place for either face", s.XZero.Kind, places[s.XZero.Kind], c.units.length(s.XZeroAt()))
	}
	return fmt.Sprintf("X: left end of the %s", piece)
}
