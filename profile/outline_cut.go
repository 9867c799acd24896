package profile

import (
	"fmt"
	"math"
	"sync"

	"gonum.org/v1/gonum/spatial/r2"

	"fullerwright/profile/geom"
)

// Hold is how a blade is held while its outline is milled out of the bar.
type Hold string

// The ways of holding it.
const (
	NoOutline Hold = "none" // the outline is not milled: it is sawn and ground
	Tabs      Hold = "tabs" // bridges at the end of the tang and at the point
	Skin      Hold = "skin" // a skin all round at the underside of the bar
)

// OutlineSize says how the outline is milled.
type OutlineSize struct {
	Hold             Hold
	TabWidth, Height float64 // of a bridge, and of bridge or skin over the underside
}

func outlineGroup() ParameterGroup {
	return ParameterGroup{Name: "outline", Feature: true, Meaning: "milling the rough profile out of the bar, the grinding allowance outside the outline", Parameters: []Parameter{
		plain(choice("hold", "what holds the blade meanwhile: tabs at the end of the tang and at the point, a skin all round, or none where it is sawn instead", string(NoOutline), string(Tabs), string(Skin)), Verbal,
			func(k *Knife, _ int) any { return (*string)(&k.Outline.Hold) }),
		plain(length("tab_width", "width of a tab", "6 mm", 1, 40), Fixed,
			func(k *Knife, _ int) any { return &k.Outline.TabWidth }),
		plain(length("tab_height", "thickness of the tabs, or of the skin, left at the underside of the bar", "0.8 mm", 0.1, 10), Fixed,
			func(k *Knife, _ int) any { return &k.Outline.Height }),
	}}
}

// roughTolerance bounds how far the rough line's arcs lie from the offset of a cubic, mm.
const roughTolerance = 0.002

// RoughLine returns the line that rough profiling keeps to: the outline with the grinding
// allowance around it, in lines and arcs, counterclockwise.
func (b Blade) RoughLine() (geom.Chain, error) {
	return around(b.Outline, math.Max(b.Knife.Allowance.Grinding, roughTolerance))
}

// around returns the curve at a distance outside a closed chain.
func around(c geom.Chain, distance float64) (geom.Chain, error) {
	all, err := c.Offset(distance, math.Min(roughTolerance, distance))
	if err != nil {
		return geom.Chain{}, fmt.Errorf("the outline has no line %.3f mm around it: %w", distance, err)
	}
	out := all[0]
	if out.Area() < 0 {
		out = out.Reverse()
	}
	return out, nil
}

// OutlineCut is the rough profile as it is milled.
type OutlineCut struct {
	Line   geom.Chain // the rough line
	Path   geom.Chain // of the cutter's axis, counterclockwise
	Radius float64    // of the cutter
	Corner float64    // of its end
	Hold   OutlineSize
	Tabs   []geom.Point // middles of the bridges, on the path
	bar    Bar
}

// OutlineCut returns the rough profile for a cutter of the given radius, its end rounded
// by a corner.
func (b Blade) OutlineCut(radius, corner float64) (OutlineCut, error) {
	line, err := b.RoughLine()
	if err != nil {
		return OutlineCut{}, err
	}
	path, err := around(line, radius)
	if err != nil {
		return OutlineCut{}, err
	}
	c := OutlineCut{Line: line, Path: path, Radius: radius, Corner: corner, Hold: b.Knife.Outline, bar: b.Bar}
	if c.Hold.Hold == Tabs {
		k := b.Knife
		box := path.Bounds()
		point, _ := path.Nearest(geom.Point{X: box.Max.X, Y: k.point().Y})
		c.Tabs = []geom.Point{{X: box.Min.X, Y: -k.ShoulderTop() - k.Tang.Width/2}, path.Pieces()[point.Piece].At(point.T)}
	}
	return c, nil
}

// Bottom returns how low the cutter's side must reach over the centre-plane: the
// underside of the bar, or the top of the skin. Below is true where it goes out there.
func (c OutlineCut) Bottom() (height float64, below bool) {
	under := 0.0
	for _, x := range c.bar.Stations() {
		under = math.Max(under, c.bar.Face(x))
	}
	if c.Hold.Hold == Skin {
		return -under + c.Hold.Height, false
	}
	return -under, true
}

// TabTop returns the height of the top of the bridges.
func (c OutlineCut) TabTop() float64 {
	under, _ := c.Bottom()
	return under + c.Hold.Height
}

// Unreached returns the most steel that the round cutter leaves in the inside corners of
// the rough line, square to it, mm, and where.
func (c OutlineCut) Unreached() (most float64, at geom.Point) {
	for _, p := range c.Line.Sample(0.01) {
		if _, away := c.Path.Nearest(p); away-c.Radius > most {
			most, at = away-c.Radius, p
		}
	}
	return most, at
}

// neighbourhood tells distances to the pieces of a chain.
type neighbourhood struct {
	pieces []geom.Piece
	boxes  []r2.Box
}

// nearby makes the pieces of a chain ready for distances of up to a reach.
func nearby(c geom.Chain, reach float64) neighbourhood {
	out := neighbourhood{pieces: c.Pieces()}
	for _, p := range out.pieces {
		box := p.Bounds()
		box.Min = geom.Point{X: box.Min.X - reach, Y: box.Min.Y - reach}
		box.Max = geom.Point{X: box.Max.X + reach, Y: box.Max.Y + reach}
		out.boxes = append(out.boxes, box)
	}
	return out
}

// distance returns how far a point lies from the chain, +Inf where it lies beyond the
// reach.
func (n neighbourhood) distance(p geom.Point) float64 {
	least := math.Inf(1)
	for i, piece := range n.pieces {
		if b := n.boxes[i]; p.X >= b.Min.X && p.X <= b.Max.X && p.Y >= b.Min.Y && p.Y <= b.Max.Y {
			least = math.Min(least, geom.Distance(piece, p))
		}
	}
	return least
}

// Low returns the lowest that the face may lie once the outline is milled: the bar's face
// inside the rough line, beside it what the hold leaves, NaN at the walls, near the tabs
// and in the waste beyond the cutter. Length is how far along the path a tab reaches with
// its slopes.
func (c OutlineCut) Low(length float64) func(x, y float64) float64 {
	line, path := nearby(c.Line, 2*c.Radius), nearby(c.Path, 2*c.Radius)
	bottom, below := c.Bottom()
	foot := wallDoubt
	if below {
		bottom = math.Inf(-1)
	} else {
		foot += c.Corner
	}
	inside := insideByColumns(c.Line)
	return func(x, y float64) float64 {
		p := geom.Point{X: x, Y: y}
		if line.distance(p) < wallDoubt {
			return math.NaN()
		}
		if inside(p) {
			return c.bar.Face(x)
		}
		if path.distance(p) > c.Radius-foot || c.nearTab(p, length/2+2*c.Radius) {
			return math.NaN()
		}
		return bottom
	}
}

// insideByColumns tells whether points lie inside a closed chain, and works out where each
// upright line meets it only once: it is asked for many points of few such lines, from
// several workers.
func insideByColumns(c geom.Chain) func(geom.Point) bool {
	var columns sync.Map // of x to the y of all meetings, ascending
	return func(p geom.Point) bool {
		known, ok := columns.Load(p.X)
		if !ok {
			known, _ = columns.LoadOrStore(p.X, c.Crossings(p.X))
		}
		inside := false
		for _, y := range known.([]float64) {
			inside = inside != (y < p.Y)
		}
		return inside
	}
}

func (c OutlineCut) nearTab(p geom.Point, reach float64) bool {
	for _, t := range c.Tabs {
		if math.Hypot(p.X-t.X, p.Y-t.Y) < reach {
			return true
		}
	}
	return false
}

// Walls returns the places of the rough line at which its wall is to be looked at: where
// the cutter reaches it, close over the bottom, near the tabs close under the face.
func (c OutlineCut) Walls(length float64) []Wall {
	path := nearby(c.Path, 2*c.Radius)
	bottom, below := c.Bottom()
	if !below {
		bottom += c.Corner
	}
	var out []Wall
	for _, piece := range c.Line.Pieces() {
		n := max(1, int(piece.Length()/(2*wallEvery)))
		for i := range n {
			t := (float64(i) + 0.5) / float64(n)
			p, d := piece.At(t), piece.Tangent(t)
			if path.distance(p) > c.Radius+1e-5 {
				continue // an inside corner that the cutter cannot reach
			}
			height := bottom + fromFace
			if c.nearTab(p, length/2+2*c.Radius) {
				height = c.bar.Face(p.X) - fromFace
			}
			out = append(out, Wall{p, geom.Point{X: d.Y, Y: -d.X}, height})
		}
	}
	return out
}
