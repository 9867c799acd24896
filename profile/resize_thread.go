package profile

import (
	"fmt"
	"math"
	"regexp"
	"slices"

	"fullerwright/profile/document"
)

// threadKey is the one text that can follow a class: the thread of the tang.
const threadKey = "tang.thread"

// moveThread moves the major diameter of a thread: by a scale to dimensions of its own; that
// of the tang, where it is asked to follow a class, to the standard thread of the same system
// that is nearest to it. Left alone a thread stays: tap and die are there.
func (z resizer) moveThread(group ParameterGroup, index int, p Parameter) (Change, bool) {
	text, isText := p.field(&z.knife, index).(*string)
	if !isText {
		return Change{}, false
	}
	old, err := ThreadNamed(*text)
	if err != nil {
		return Change{}, false
	}
	c := Change{Key: changeKey(group, index, p), Kind: document.Text, Was: old.Major, Is: old.Major, WasText: *text, IsText: *text, Class: Fixed, Why: "kept as asked"}
	if z.Scale != 0 {
		return z.scaleThread(c, old), true
	}
	class, follows := z.Follow[threadKey]
	kept := slices.Contains(z.Keep, threadKey)
	if c.Key != threadKey || !follows && !kept {
		return Change{}, false
	}
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

// shortThread is a metric thread without its pitch, as M6, or one that scaled has made of it.
var shortThread = regexp.MustCompile(`^\s*[Mm][0-9.]+\s*$|^[0-9.]+x`)

// scaleThread gives a thread every dimension times the scale, and says so where no tap and
// die come in that.
func (z resizer) scaleThread(c Change, old Thread) Change {
	c.Is, c.IsText, c.Class, c.Why = old.Major*z.Scale, old.scaled(z.Scale, shortThread.MatchString(c.WasText)), Scaled, z.sayScale()
	if now, err := ThreadNamed(c.IsText); err == nil && !now.Standard() {
		c.Why += fmt.Sprintf("; no tap or die comes in this: cut it on the lathe, or write the nearest that is made, %s", now.Nearest().Name)
	}
	return c
}

// Nearest returns the standard thread of the same system that is nearest in diameter.
func (t Thread) Nearest() Thread { return nearestThread(t, t.Major) }

// nearestThread returns the standard thread of the system of an old one whose major
// diameter is nearest to what is wanted, and of two of that diameter the one as coarse for
// its diameter.
func nearestThread(old Thread, wanted float64) Thread {
	var best Thread
	rank := func(t Thread) (off, pitch float64) {
		return math.Abs(t.Major - wanted), math.Abs(t.Pitch/t.Major - old.Pitch/old.Major)
	}
	for _, t := range Threads() {
		off, pitch := rank(t)
		least, as := rank(best)
		if t.Metric == old.Metric && (best.Name == "" || off < least-resolution || off < least+resolution && pitch < as) {
			best = t
		}
	}
	return best
}
