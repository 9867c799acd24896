package main

import (
	"fmt"
	"math"
	"slices"

	"fullerwright/toolpath"
	"fullerwright/toolpath/motion"
)

// sameDiameter is how far a diameter in a comment may be from that of the shop file, mm: the
// comment has three decimals.
const sameDiameter = 0.001

// scrapProof returns what cuts a simulated scrap, of the size that a program says, with its
// motions and compares it with the test grooves for the knife.
func scrapProof(w *work, c claims, t toProve, motions []motion.Motion, result *toolpath.FaceProof) (func() error, error) {
	i := slices.IndexFunc(w.shop.Cutters, func(other toolpath.Cutter) bool {
		return other.End == c.end && math.Abs(2*other.Radius()-c.diameter) < sameDiameter
	})
	if i < 0 {
		return nil, &usageError{fmt.Sprintf("the shop file has no %s of %.3f mm, with which the test grooves were planned", c.end, c.diameter), "name the shop file that the scrap was made with, with --shop"}
	}
	if c.goesOn || c.laterFile {
		return nil, &usageError{fmt.Sprintf("%s is one of several files of test grooves", t.path), "scrap proves them together when it writes them; without --knife each is described"}
	}
	job, scrap, err := toolpath.PlanScrap(w.blade, w.shop, c.bar, w.shop.Cutters[i].Name)
	if err != nil {
		return nil, err
	}
	return func() error { *result = scrap.Prove(job, w.shop, motions); return nil }, nil
}
