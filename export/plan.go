package export

import (
	"fmt"
	"math"
	"sort"

	"fullerwright/export/sheet"
	"fullerwright/profile"
)

// PlanOptions say how the sheets of a plan are drawn and what they name.
type PlanOptions struct {
	Paper      Paper // laid across
	Lengths    LengthStyle
	FirstAngle bool    // first-angle projection; third-angle where false
	Source     string  // the knife file
	Digest     string  // of the parameters
	Density    float64 // of the blade's steel, g/cm³
	Printer    Printer // made up for on the sheets for the bench: gauges, fittings and bar
	ScaleLoss  float64 // what the fire takes of a billet's weight, as a share; 0 for a bar that is bought
}

// planFrame is the distance of the frame from the edge of the paper, mm, which every
// printer reaches.
const planFrame = 10

// area is an upright rectangle of a sheet that is free to draw in, by its left and
// upper edges.
type area struct{ left, top, width, height float64 }

// free returns what the title block leaves of a page.
func (o PlanOptions) free() area {
	width, height := o.Paper.Height, o.Paper.Width
	return area{planFrame + 2, height - planFrame - 2, width - 2*planFrame - 4, height - 2*planFrame - titleHeight - 6}
}

func (o PlanOptions) newPage(title, description string) sheet.Sheet {
	return sheet.Sheet{Title: title, Description: description, Width: o.Paper.Height, Height: o.Paper.Width}
}

// The series of ISO 5455 (from memory): 1, 2 and 5 and their tenfolds, enlarged and
// reduced.
var scaleSeries = []float64{10, 5, 2, 1, 0.5, 0.2, 0.1}

// sayScale writes a scale as ISO 5455 has it.
func sayScale(scale float64) string {
	if scale >= 1 {
		return fmt.Sprintf("%.0f:1", scale)
	}
	return fmt.Sprintf("1:%.0f", 1/scale)
}

// Plan returns the sheets of the plan of a finished knife: its views, with running
// dimensions from the guard plane; sections at named stations; tables. All are drawn on
// one size of paper, and go on to further sheets where one does not hold them.
func Plan(b profile.Blade, o PlanOptions) ([]sheet.Sheet, error) {
	ruler, err := sheet.NewRuler()
	if err != nil {
		return nil, err
	}
	measures := b.Measure(o.Density)
	description := fmt.Sprintf("%s: dimensioned plan in %s, parameters %s.", b.Knife.Name, o.Lengths.Words(), o.Digest)
	views := o.newPage("Plan: "+b.Knife.Name, description)
	p := pencil{&views, ruler, o.Lengths, planLetter}
	lay, ok := viewsFor(p, b, measures, o)
	if !ok {
		return nil, fmt.Errorf("the views of %s do not fit %s paper; take a larger paper", b.Knife.Name, o.Paper.Name)
	}
	p.views(lay, b, measures)
	pages := []planPage{{views, sayScale(lay.scale)}}

	cells, scale, err := sectionCells(b, p, o, lay)
	if err != nil {
		return nil, err
	}
	blocks := planTables(b, measures, ruler, o)
	var apart []cell
	if lay.apart {
		apart = []cell{backCell(p, b, lay, o)}
	}
	for i, s := range flow(p, o, description, apart, cells, blocks) {
		says := "sections " + sayScale(scale)
		if lay.apart && i == 0 {
			says = sayScale(lay.scale) + ", or as noted"
		}
		if !drawn(s) {
			says = "none"
		}
		pages = append(pages, planPage{s, says})
	}
	return titled(pages, ruler, b, o), nil
}

// drawn reports whether a sheet shows more than tables.
func drawn(s sheet.Sheet) bool {
	for _, layer := range s.Layers {
		if layer.ID == "outline" {
			return true
		}
	}
	return false
}

// planPage is a page with the scale that its title block names.
type planPage struct {
	sheet.Sheet
	scale string
}

func titled(pages []planPage, ruler sheet.Ruler, b profile.Blade, o PlanOptions) []sheet.Sheet {
	out := make([]sheet.Sheet, len(pages))
	for i := range pages {
		p := pencil{&pages[i].Sheet, ruler, o.Lengths, planLetter}
		p.titleBlock(titleOf(b, o, pages[i].scale, fmt.Sprintf("%d of %d", i+1, len(pages))))
		out[i] = pages[i].Sheet
	}
	return out
}

// Station is a named station of the plan, at which it shows a section. Gauges carry
// the same letter.
type Station struct {
	Letter, Name string
	X            float64 // from the guard plane, mm
}

// PlanStations returns the stations of the sections, from the tang to the point, but for
// those that lie very near to the one before.
func PlanStations(b profile.Blade) []Station {
	k := b.Knife
	length := k.Blade.Length
	all := []Station{
		{"", "tang at the shoulder", -math.Min(3*k.Tang.CornerRadius+0.5, k.Tang.Length/2)},
		{"", "ricasso", k.Ricasso.Length / 2},
	}
	if len(b.Fullers) == 0 {
		all = append(all, Station{"", "middle of the bevel", (k.Ricasso.Length + b.ClipStart().X) / 2})
	} else {
		from, to := b.Fullers[0].StartFull, b.Fullers[0].EndFull
		if from > k.Ricasso.Length/2 { // else the section of the ricasso shows it
			all = append(all, Station{"", "near end of the fuller", from})
		}
		from = math.Max(0, from)
		all = append(all, Station{"", "middle of the fuller", (from + to) / 2}, Station{"", "far end of the fuller", to})
	}
	all = append(all, Station{"", "start of the clip", b.ClipStart().X}, Station{"", "near the point", length - math.Min(25, length/6)})
	sort.SliceStable(all, func(i, j int) bool { return all[i].X < all[j].X })
	var out []Station
	for _, s := range all {
		if n := len(out); n > 0 && s.X < out[n-1].X+length/25 {
			continue
		}
		s.Letter = string(rune('A' + len(out)))
		out = append(out, s)
	}
	return out
}
