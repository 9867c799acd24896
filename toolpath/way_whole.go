package toolpath

import (
	"math"
	"slices"

	"fullerwright/profile/document"
)

// whole adds to a way out what must be changed in the knife file besides, because the file
// gives a dimension twice: the width of a fuller with its radius or depth. By itself the way
// would make a file that contradicts itself.
func (t *trial) whole(way Way) Way {
	if way.File != KnifeFile || way.Key == "" || way.Word != "" {
		return way
	}
	before := t.blade.Knife
	after, keys := before, []string{}
	for _, one := range append([]Way{way}, way.Also...) {
		if one.File != KnifeFile || one.Word != "" {
			return way
		}
		var err error
		if after, err = after.Put(one.Key, t.beforeHardening(one)); err != nil {
			return way
		}
		keys = append(keys, one.Key)
	}
	also := slices.Clone(way.Also)
	for _, q := range after.Quantities() {
		is := q.Of(after)
		if slices.Contains(keys, q.Key) || math.Abs(is-q.Of(before)) < slack {
			continue
		}
		if q.InPlane {
			is *= 1 + before.Allowance.Growth
		}
		if q.Kind == document.Length {
			step := 0.01 // what a caliper reads
			if before.Units == document.Inch {
				step = 0.0001 * document.Inch.Millimetres()
			}
			is = math.Round(is/step) * step
		}
		also = append(also, Way{File: KnifeFile, Key: q.Key, Value: is})
	}
	way.Also = also
	return way
}

// wholes does so for several.
func (t *trial) wholes(ways []Way) []Way {
	for i := range ways {
		ways[i] = t.whole(ways[i])
	}
	return ways
}
