package profile

import (
	"fmt"
	"math"
	"slices"

	"fullerwright/profile/document"
)

// threadKey is the one text that can follow a class: the thread of the tang.
const threadKey = "tang.thread"

// moveThread moves the major diameter of the tang's thread by the class that it is asked
// to follow, and takes the standard thread of the same system that is nearest to it. Left
// alone it stays: pommel, tap and die are there.
func (z resizer) moveThread(p Parameter) (Change, bool) {
	old, err := z.knife.thread()
	class, follows := z.Follow[threadKey]
	kept := slices.Contains(z.Keep, threadKey)
	if err != nil || z.Scale != 0 || !follows && !kept {
		return Change{}, false
	}
	c := Change{Key: threadKey, Kind: document.Text, Was: old.Major, Is: old.Major, WasText: z.knife.Tang.Thread, IsText: z.knife.Tang.Thread, Class: Fixed, Why: "kept as asked"}
	if kept {
		return c, true
	}
	wanted, _ := z.by(class, p, old.Major)
	near := nearestThread(old, wanted)
	c.Class, c.Is, c.Why = class, near.Major, "follows as asked"
	if near.Name != old.Name {
		c.IsText = near.Name
	}
	if math.Abs(near.Major-wanted) > resolution {
		c.Snapped = true
		c.Why = fmt.Sprintf("came to a diameter of %s; the nearest standard thread", z.knife.say(wanted))
	}
	return c, true
}

// nearestThread returns the standard thread of the system of an old one whose major
// diameter is nearest to what is wanted, and of two of that diameter the one as coarse for
// its diameter.
func nearestThread(old Thread, wanted float64) Thread {
	best := old
	rank := func(t Thread) (off, pitch float64) {
		return math.Abs(t.Major - wanted), math.Abs(t.Pitch/t.Major - old.Pitch/old.Major)
	}
	for _, t := range Threads() {
		off, pitch := rank(t)
		least, as := rank(best)
		if t.Metric == old.Metric && (off < least-resolution || off < least+resolution && pitch < as) {
			best = t
		}
	}
	return best
}
