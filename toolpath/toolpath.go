// Package toolpath turns a blade, a shop and an operation into the moves of a cutter,
// and checks them against cutter, steel, machine and vise before anyone may write
// them down.
//
// Lengths are millimetres, feeds millimetres a minute, spindle speeds revolutions a
// minute. Moves are in the work frame of their setup (motion.Placement): X along the
// fixed jaw to the right, Y away from the operator with the fixed jaw at Y = 0 and
// the bar at Y < 0, Z = 0 on the bar's top face where it was touched. They give the
// tip of the cutter.
//
// The package plans and judges; how a program is spelled is the business of others.
package toolpath
