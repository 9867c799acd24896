package toolpath

import (
	"fmt"
	"math"

	"fullerwright/profile"
)

// xZeroChecks looks at how far apart along the blade the fullers of the two faces will
// likely end, where X is not taken from the butt.
func xZeroChecks(b profile.Blade, shop Shop) []Check {
	if !b.Bar.XZero.Touched() || len(b.Grooves(profile.Right)) == 0 || len(b.Grooves(profile.Left)) == 0 {
		return nil
	}
	along := TurningFor(Fullers, b, shop).Chosen().Along
	// What is left for the two touches of the likely sum, a root of squares.
	touch := shop.Errors.reckonedFor(b.Bar.XZero).XTouch
	rest := along.Likely()*along.Likely() - 2*touch*touch
	room := math.Sqrt(math.Max(0, alikeAtEnds*alikeAtEnds-rest) / 2)
	return []Check{most(fmt.Sprintf("likely mismatch of the fullers' ends, X touched at the %s", b.Bar.XZero.Kind), along.Likely(), alikeAtEnds, "mm").mild().
		at("%.0f mm from the butt", b.Bar.XZero.X-b.Bar.Butt).from("common practice, no source, against the errors in the shop file").
		orElse("a touch good to %.3f mm would do", math.Floor(room*1000)/1000)}
}
