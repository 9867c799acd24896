package profile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fullerwright/profile/document"
)

// Resizing is what a resized pattern shall come to. A target of 0 is none.
type Resizing struct {
	Length, Width, Overall float64 // of the blade and of the piece with its tang, mm
	Stock                  float64 // thickness of the bar, mm
	Scale                  float64 // of everything; stands alone
	Keep                   []string
	Follow                 map[string]ResizeClass // by key, as fuller.radius
	Stores                 *Stores                // what comes in steps is snapped to it; nil for no snapping
}

// Change is one parameter that resizing moved or was asked to keep.
type Change struct {
	Key             string // as fuller[1].start
	Kind            document.Kind
	Was, Is         float64 // mm, radians or plain; of a thread its major diameter
	WasText, IsText string  // of a text
	Class           ResizeClass
	Why             string
	Snapped         bool // to what comes in steps
	LeftOut         bool // the file leaves it out: it follows from the others
}

// resizer holds the factors of the resize classes.
type resizer struct {
	Resizing
	knife                  Knife
	along, across, through float64
	plunge                 float64 // stations up to here stay, mm
	asked                  float64 // thickness of stock before it was snapped, mm
}

// Resize moves every parameter of a knife file by its resize class and returns the
// new file, in which all but the moved values stands byte for byte, and the changes in
// the order of the table. Defaults that move are written, with a comment by which the way back
// finds them and takes them out. Stations map one to one: up to the plunge line they stay,
// beyond it they stretch evenly to the point, so that their order is kept. A length
// whose meaning does not count from the guard plane stretches as the part beyond the
// plunge line does. Dimensions that the file gives besides those they follow from, such
// as the width of a fuller, are made to agree. The result is not checked: Parse does that. With
// stores, the stock asked for, a bar that has become too small, and the radius of a fuller
// that is asked to follow a class are snapped to them; a thread that follows a class goes to a
// standard one; a scale gives it dimensions of its own.
func Resize(file string, data []byte, r Resizing) ([]byte, []Change, error) {
	knife, err := Parse(file, data)
	if err != nil {
		return nil, nil, err
	}
	z, err := newResizer(knife, data, r)
	if err != nil {
		return nil, nil, err
	}
	var changes []Change
	knife.eachParameter(func(group ParameterGroup, index int, p Parameter) {
		if !knife.gives(group, index) && (r.Scale == 0 || group.Feature) {
			return // defaults of what the file does not speak of
		}
		if c, moved := z.move(group, index, p); moved {
			changes = append(changes, c)
		}
	})
	if r.Scale == 0 {
		changes = z.snapBar(knife.followed(changes))
	}
	return document.Apply(data, knife.Units, knife.edits(changes, r.Scale != 0)), changes, nil
}

// edits returns what must be written for the changes, in the order of the table.
func (k Knife) edits(changes []Change, exact bool) []document.Edit {
	follows := map[string]bool{}
	for _, d := range k.redundant() {
		follows[d.name()] = true
	}
	byKey := map[string]Change{}
	for _, c := range changes {
		byKey[c.Key] = c
	}
	var out []document.Edit
	k.eachParameter(func(group ParameterGroup, index int, p Parameter) {
		c, changed := byKey[changeKey(group, index, p)]
		if !changed || c.LeftOut || c.Was == c.Is && c.WasText == c.IsText {
			return
		}
		out = append(out, document.Edit{Group: group.Name, Index: index, Key: p.Name, Kind: p.Kind, Value: c.Is, Text: c.IsText,
			Exact:   exact || group.Name == "blade", // all others are moved by these
			Follows: !exact && follows[c.Key], Noted: true, Usual: p.usual(c.Is, exact)})
	})
	return out
}

// usual reports whether a length is the default of a parameter: within what is lost on the
// way there and back, or exactly but for what a factor of ten digits leaves.
func (p Parameter) usual(mm float64, exact bool) bool {
	standard, err := document.ParseLength(p.Default, document.Millimetre)
	within := 2e-4
	if exact {
		within = 1e-9 * standard
	}
	return p.Kind == document.Length && err == nil && math.Abs(mm-standard) <= within
}

// gives reports whether the file has any key of a group.
func (k Knife) gives(group ParameterGroup, index int) bool {
	return slices.ContainsFunc(group.Parameters, func(p Parameter) bool { return k.source.Value(group.Name, index, p.Name).Given })
}

// changeKey names a parameter as changes do: fuller[1].start, blade.length.
func changeKey(group ParameterGroup, index int, p Parameter) string {
	if group.Repeated {
		return fmt.Sprintf("%s[%d].%s", group.Name, index+1, p.Name)
	}
	return group.Name + "." + p.Name
}

func newResizer(k Knife, data []byte, r Resizing) (resizer, error) {
	if err := r.contradiction(); err != nil {
		return resizer{}, err
	}
	z := resizer{Resizing: r, knife: k, along: 1, across: 1, through: 1, plunge: k.Ricasso.Length}
	if r.Overall != 0 {
		z.Length = r.Overall - k.Tang.Length
	}
	if z.Length != 0 || r.Overall != 0 {
		if z.Length <= z.plunge {
			return resizer{}, fmt.Errorf("a blade of %s leaves nothing in front of the ricasso of %s; ask for more", k.say(z.Length), k.say(z.plunge))
		}
		z.Length = k.written(data, "length", z.Length)
		z.along = (z.Length - z.plunge) / (k.Blade.Length - z.plunge)
	}
	if r.Width != 0 {
		z.across = k.written(data, "width", r.Width) / k.Blade.Width
	}
	if r.Stock != 0 {
		z.snapStock()
		finished := z.Stock - (k.neededBarThickness() - k.Blade.Thickness)
		if finished <= 0 {
			return resizer{}, fmt.Errorf("stock of %s is used up by the allowances of both faces; ask for thicker stock", k.say(z.Stock))
		}
		z.through = k.written(data, "thickness", finished) / k.Blade.Thickness
	}
	return z, nil
}

// written returns a size of the blade as the file will have it: all else moves by that, so
// that the way back finds it.
func (k Knife) written(data []byte, key string, mm float64) float64 {
	return document.Written(data, k.Units, document.Edit{Group: "blade", Key: key, Kind: document.Length, Value: mm})
}

// contradiction says what cannot be asked for together.
func (r Resizing) contradiction() error {
	named := map[string]float64{"length": r.Length, "width": r.Width, "overall": r.Overall, "stock": r.Stock, "scale": r.Scale}
	asked := 0
	for _, name := range []string{"length", "width", "overall", "stock", "scale"} {
		v := named[name]
		if v < 0 || math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%s must be greater than 0, not %g", name, v)
		}
		if v > 0 {
			asked++
		}
	}
	switch {
	case asked == 0:
		return fmt.Errorf("nothing to resize to; give a length, a width, an overall length, a stock thickness or a scale")
	case r.Scale > 0 && (asked > 1 || len(r.Keep) > 0 || len(r.Follow) > 0):
		return fmt.Errorf("a scale moves everything alike and stands alone; leave the others out")
	case r.Length > 0 && r.Overall > 0:
		return fmt.Errorf("length and overall both set the length of the blade; give one of them")
	}
	targets := map[string]bool{"blade.length": r.Length > 0 || r.Overall > 0, "blade.width": r.Width > 0, "blade.thickness": r.Stock > 0}
	for key, class := range r.Follow {
		if slices.Contains(r.Keep, key) {
			return fmt.Errorf("%s cannot both be kept and follow %s; drop one", key, class)
		}
		if !slices.Contains([]ResizeClass{Along, Across, Through, Fixed}, class) {
			return fmt.Errorf("%s cannot follow %q; it can follow along, across, through or fixed", key, class)
		}
	}
	for _, key := range r.keys() {
		if targets[key] {
			return fmt.Errorf("%s is what is asked to change; it cannot be kept or follow another class", key)
		}
		if key != threadKey && !isLengthKey(key) {
			return fmt.Errorf("there is no length %q; fullerwright help keys lists them, as blade.width or fuller.radius", key)
		}
	}
	return nil
}

// keys returns every key that is kept or follows, in a steady order.
func (r Resizing) keys() []string {
	keys := slices.Clone(r.Keep)
	for key := range r.Follow {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	return keys
}

func isLengthKey(key string) bool {
	for _, group := range Table() {
		for _, p := range group.Parameters {
			if p.Kind == document.Length && group.Name+"."+p.Name == key {
				return true
			}
		}
	}
	return false
}

// move returns what becomes of one parameter, and whether it is worth telling.
func (z resizer) move(group ParameterGroup, index int, p Parameter) (Change, bool) {
	if p.Name == "thread" {
		return z.moveThread(group, index, p)
	}
	was, known := quantity(p.field(&z.knife, index))
	if !known || p.Kind != document.Length {
		return Change{}, false
	}
	key := group.Name + "." + p.Name
	c := Change{Key: changeKey(group, index, p), Kind: p.Kind, Was: was, Class: p.Resize}
	switch class, follows := z.Follow[key]; {
	case z.Scale != 0:
		c.Is, c.Class, c.Why = was*z.Scale, Scaled, z.sayScale()
		return c, c.Is != was
	case slices.Contains(z.Keep, key):
		c.Is, c.Why = was, "kept as asked"
		return c, true
	case key == "bar.thickness" && z.Stock != 0:
		c.Is, c.Why, c.Snapped = z.Stock, z.sayStock(), z.Stock != z.asked
		return c, true
	case follows:
		c.Class = class
		c.Is, _ = z.by(class, p, was)
		c.Why = "follows as asked"
		if key == "fuller.radius" && class != Fixed {
			z.snapRadius(&c)
		}
		return c, true
	}
	c.Is, c.Why = z.by(p.Resize, p, was)
	if why := z.target(key); why != "" {
		c.Why = why
	}
	return c, c.Is != was
}

// target says what was asked of a key that is a target, or follows from one at once; nothing
// of any other.
func (z resizer) target(key string) string {
	switch {
	case key == "blade.length" && z.Overall != 0:
		return "what the tang leaves of the overall length asked for"
	case key == "blade.length":
		return "the length asked for"
	case key == "blade.width" && z.Width != 0:
		return "the width asked for"
	case key == "blade.thickness" && z.Stock != 0:
		return "what the allowances of both faces leave of the stock"
	}
	return ""
}

func (z resizer) sayScale() string { return fmt.Sprintf("every length times %g", z.Scale) }

// by moves a length by a class and says why.
func (z resizer) by(class ResizeClass, p Parameter, was float64) (is float64, why string) {
	switch class {
	case Along:
		if strings.Contains(p.Meaning, "from the guard plane") {
			return z.station(was), "a station beyond the plunge line moves with the point"
		}
		return was * z.along, "a length in front of the plunge line stretches with it"
	case Across:
		return was * z.across, "stretches with the width"
	case Through:
		return was * z.through, "stretches with the thickness"
	}
	return was, "stays"
}

// station maps a distance from the guard plane.
func (z resizer) station(x float64) float64 {
	if z.along == 1 || x <= z.plunge {
		return x
	}
	return z.plunge + (x-z.plunge)*z.along
}
