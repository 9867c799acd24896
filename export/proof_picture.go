package export

import (
	"fmt"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/profile/geom"
	"fullerwright/toolpath"
)

// A class is a range of deviation with its look. The two hues, blue under the design
// and amber over it, differ in lightness as well, so that they can be told apart in
// grey and by eyes that do not see red and green; beyond tolerance there is hatching.
type class struct {
	least  float64 // as a part of the tolerance of its side
	fill   string
	hatch  bool
	legend string
}

var (
	underClasses = []class{
		{1, "#123a6b", true, "gouged beyond tolerance"},
		{0.5, "#3f76b5", false, "below, over half the tolerance"},
		{0.1, "#a9c8e8", false, "below, over a tenth"},
	}
	overClasses = []class{
		{1, "#8a4b00", true, "left beyond tolerance"},
		{0.5, "#e0942e", false, "above, over half the tolerance"},
		{0.1, "#f7dba6", false, "above, over a tenth"},
	}
	closeClass = class{0, "#ececec", false, "within a tenth of the tolerance"}
)

const (
	pictureWidth, pictureHeight = 297.0, 210.0
	pictureMargin               = 12.0
	mapHeightMost               = 60.0
	blockMM                     = 0.3 // on paper: a block of the map shows the worst node in it
)

// ProofPicture draws the proof of one face: a map of how far the cut lies from the
// design, with stations and legend, a section along the first fuller, and sections
// across it.
func ProofPicture(b profile.Blade, shop toolpath.Shop, p toolpath.FaceProof, cusp float64) sheet.Sheet {
	unit := b.Knife.Units
	s := sheet.Sheet{Title: document.Say("Proof of the %s: %s", document.Words(sayStep(p.Step)), b.Knife.Name).In(unit),
		Description: document.Say("Deviation of the simulated cut from the design, greatest gouge %.4f mm, greatest leftover %.4f mm.", p.Judged.Gouge.Value, p.Judged.Leftover.Value).In(unit),
		Width:       pictureWidth, Height: pictureHeight}
	d := newDeviation(p, shop.Limits.Gouge, cusp+shop.Limits.Leftover, pictureWidth-2*pictureMargin, mapHeightMost)
	d.unit = unit
	d.place()
	top := pictureHeight - pictureMargin
	s.Add("notes", "notes",
		headLine(s.Title, top-5),
		sheet.Text{At: geom.Point{X: pictureMargin, Y: top - 12}, Height: 2.8,
			Content: document.Say("Greatest gouge %.4f mm (%.4f allowed), greatest leftover %.4f mm (%.4f allowed, square to the wall). Grid %.3f mm, which may hide %.5f mm.",
				p.Judged.Gouge.Value, document.Dimension(d.gouge), p.Judged.Leftover.Value, document.Dimension(d.leftover), p.Judged.Step, p.Judged.Bound).In(unit)})
	d.drawMap(&s)
	d.drawStations(&s)
	drawLegend(&s, d)
	if p.Step.Operation == toolpath.Fullers {
		drawSections(&s, b, p, d)
	} else {
		drawMiddleSections(&s, b, p, d)
	}
	return s
}

// headLine sets the title, in smaller letters where it is long.
func headLine(title string, y float64) sheet.Text {
	const most, least = 4.5, 2.8
	ruler, room := builtInRuler(), pictureWidth-2*pictureMargin
	t := sheet.Text{At: geom.Point{X: pictureMargin, Y: y}, Height: most, Bold: true, Content: title}
	t.Height = max(least, min(most, most*room/ruler.Width(t)))
	return fitted(ruler.Width, t, room)
}

// sayStep names a step in a title.
func sayStep(s toolpath.Step) string {
	switch {
	case s.Corner > 0 && s.Operation == toolpath.Slot:
		return fmt.Sprintf("slot's corners, cutter %d", s.Corner+1)
	case s.Corner > 0:
		return fmt.Sprintf("%s's corners, cutter %d, %s face", s.Operation, s.Corner+1, s.Face)
	case s.Operation == toolpath.Slot && s.Bore > 0:
		return fmt.Sprintf("hole of %.2f mm in the slot of the guard", s.Bore)
	case s.Operation == toolpath.Slot:
		return "slot of the guard"
	case s.Bore > 0:
		return fmt.Sprintf("%s of %.2f mm, %s face", s.Operation, s.Bore, s.Face)
	}
	return fmt.Sprintf("%s, %s face", s.Operation, s.Face)
}

// sayWays says where the map's lengths count from and which way it lies.
func sayWays(s toolpath.Step, unit document.Unit) string {
	where := "from the guard plane; the point is to the right, the spine is up"
	switch {
	case s.Operation == toolpath.Slot:
		where = "from the middle of the blank, seen from its front"
	case s.Face == profile.Left:
		where += ": the left face as if seen through the bar"
	}
	return units{unit == document.Inch}.names() + " " + where
}

func drawLegend(s *sheet.Sheet, d deviation) {
	x, y := pictureMargin, d.corner.Y-18
	entry := func(c class) {
		box := sheet.Box{MinX: x, MinY: y, MaxX: x + 6, MaxY: y + 3.2}
		s.Add("legend", "legend", sheet.Filled(c.fill, box), sheet.Rectangle(sheet.Pen{Width: 0.1}, box.MinX, box.MinY, 6, 3.2))
		if c.hatch {
			s.Add("legend", "legend", sheet.Hatch(sheet.Pen{Width: 0.1}, box, 0.6))
		}
		s.Add("legend", "legend", sheet.Text{At: geom.Point{X: x + 8, Y: y + 0.5}, Height: 2.4, Content: c.legend})
		y -= 5
	}
	for _, c := range underClasses {
		entry(c)
	}
	x, y = pictureMargin+95, d.corner.Y-18
	entry(closeClass)
	x, y = pictureMargin+190, d.corner.Y-18
	for _, c := range overClasses {
		entry(c)
	}
}
