package export

import (
	"fmt"

	"fullerwright/toolpath"
)

// sayParallels says which parallels to lay in, and how high the work then stands.
func (c *setupContent) sayParallels(piece string) string {
	u, stand := c.units, c.job.Stand(c.sheet.Shop)
	above := fmt.Sprintf("the top of the %s stands %s above the jaws", piece, u.with(stand.Above))
	if len(c.job.Beds(c.sheet.Shop.Vise)) > 0 {
		above += " at the ricasso"
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
