package export

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/profile/geom"
	"fullerwright/toolpath"
)

// ChartAxis is a parameter that a chart runs over, in the unit that is printed.
type ChartAxis struct {
	Name, Unit string
	Values     []float64 // ascending or descending
}

// ChartVerdict is what the checks of one design come to. The zero value stands for a
// design that cannot be.
type ChartVerdict struct {
	Verdict  toolpath.Verdict
	Obstacle string // the check that stops it, or why it cannot be
}

// ChartMeasure is a measure of every design; NaN where there is none.
type ChartMeasure struct {
	Name, Unit string
	Values     []float64
	Target     profile.Optional
	Finest     float64 // the least difference worth drawing
}

// The looks of the verdicts differ in lightness and in hatching, so that they can be told
// apart in grey. A design that stops is hatched, one that cannot be is dark.
const (
	cautionFill = "#fdf3d7"
	stopFill    = "#dfe6ee"
	noneFill    = "#b9bfc6"
	chartMargin = 14.0
)

func (v ChartVerdict) fill() (fill string, hatched bool) {
	switch v.Verdict {
	case toolpath.OK:
		return "", false
	case toolpath.Caution:
		return cautionFill, false
	case toolpath.Stop:
		return stopFill, true
	}
	return noneFill, true
}

// shade fills a box with the look of a verdict.
func shade(s *sheet.Sheet, v ChartVerdict, box sheet.Box) {
	fill, hatched := v.fill()
	if fill == "" || box.MaxX-box.MinX < 1e-6 || box.MaxY-box.MinY < 1e-6 {
		return
	}
	s.Add("verdicts", "verdicts", sheet.Filled(fill, box))
	if hatched {
		s.Add("verdicts", "verdicts", sheet.Hatch(sheet.Pen{Width: 0.08}, box, 1.6))
	}
}

// ticks returns round values from the least to the greatest, about as many as wanted, and
// the decimals that tell them apart.
func ticks(least, most float64, wanted int) (values []float64, decimals int) {
	if !(most > least) {
		return []float64{least}, 3
	}
	raw := (most - least) / float64(wanted)
	power := math.Pow(10, math.Floor(math.Log10(raw)))
	step := 10 * power
	for _, s := range []float64{1, 2, 5} {
		if s*power >= raw*(1-1e-9) {
			step = s * power
			break
		}
	}
	for i := math.Ceil(least/step - 1e-9); i*step <= most+1e-9*step; i++ {
		values = append(values, i*step)
	}
	return values, max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
}

func sayTick(v float64, decimals int) string {
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if f, err := strconv.ParseFloat(text, 64); err == nil && f == 0 {
		return strconv.FormatFloat(0, 'f', decimals, 64)
	}
	return text
}

// named writes a name with its unit.
func named(name, unit string) string {
	if unit == "" {
		return name
	}
	return name + ", " + unit
}

// obstacleLetters gives each obstacle a letter, in the order of their first design; those
// beyond the last letter have none.
func obstacleLetters(verdicts []ChartVerdict) (order []string, letter map[string]string) {
	const most = 9
	letter = map[string]string{}
	for _, v := range verdicts {
		if v.Obstacle == "" || letter[v.Obstacle] != "" || len(order) == most {
			continue
		}
		order = append(order, v.Obstacle)
		letter[v.Obstacle] = string(rune('A' + len(order) - 1))
	}
	return order, letter
}

// A verdictLegend explains looks, in two columns, and letters under them: in two columns
// too, or in one where an obstacle takes more words.
type verdictLegend struct {
	width   float64
	looks   []chartLook
	order   []string
	letter  map[string]string
	columns int // of the letters
}

func legendOf(verdicts []ChartVerdict, width float64) verdictLegend {
	l := verdictLegend{width: width, looks: looksOf(verdicts), columns: 2}
	l.order, l.letter = obstacleLetters(verdicts)
	for _, name := range l.order {
		if shortened(name, width/2-legendIndent, legendLetter) != name {
			l.columns = 1
		}
	}
	return l
}

const (
	legendRow    = 4.6 // height of one line of a legend
	legendLetter = 2.2
	legendIndent = 10.0 // of its words, with what must stay free behind them
)

// height is what the legend takes.
func (l verdictLegend) height() float64 {
	return float64(l.rows(2, len(l.looks))+l.rows(l.columns, len(l.order))) * legendRow
}

func (l verdictLegend) rows(columns, entries int) int { return (entries + columns - 1) / columns }

// draw draws the legend with its lower left corner at a place.
func (l verdictLegend) draw(s *sheet.Sheet, x, y float64) {
	top := y + l.height() - legendRow
	entry := func(i, columns, above int, content string) (at, row float64) {
		at, row = x+float64(i%columns)*l.width/float64(columns), top-float64(above+i/columns)*legendRow
		s.Add("legend", "legend", sheet.Text{At: geom.Point{X: at + 8, Y: row + 0.4}, Height: legendLetter, Content: shortened(content, l.width/float64(columns)-legendIndent, legendLetter)})
		return at, row
	}
	for i, look := range l.looks {
		at, row := entry(i, 2, 0, look.says)
		box := sheet.Box{MinX: at, MinY: row, MaxX: at + 6, MaxY: row + 3}
		shade(s, look.v, box)
		s.Add("legend", "legend", sheet.Rectangle(sheet.Pen{Width: 0.1}, box.MinX, box.MinY, 6, 3))
	}
	for i, name := range l.order {
		at, row := entry(i, l.columns, l.rows(2, len(l.looks)), name)
		s.Add("legend", "legend", sheet.Text{At: geom.Point{X: at + 3, Y: row + 0.4}, Height: legendLetter, Bold: true, Anchor: sheet.Middle, Content: l.letter[name]})
	}
}

// chartLook is a look of designs with what it says.
type chartLook struct {
	v    ChartVerdict
	says string
}

// looksOf returns the looks that designs of a chart have.
func looksOf(verdicts []ChartVerdict) []chartLook {
	all := []chartLook{{ChartVerdict{Verdict: toolpath.OK}, "every check is well"}, {ChartVerdict{Verdict: toolpath.Caution}, "a check cautions"},
		{ChartVerdict{Verdict: toolpath.Stop}, "a check stops the work"}, {ChartVerdict{}, "there is no such knife"}}
	return slices.DeleteFunc(all, func(look chartLook) bool {
		return !slices.ContainsFunc(verdicts, func(v ChartVerdict) bool { return v.Verdict == look.v.Verdict })
	})
}

// letterShare is about the mean width of a letter over the height of a capital.
const letterShare = 0.72

// shortened cuts a text to about a width.
func shortened(text string, width, height float64) string {
	letters := []rune(text)
	if room := int(width / (height * letterShare)); len(letters) > room {
		return string(letters[:max(0, room-1)]) + "…"
	}
	return text
}

// chartHead writes the title and notes of a chart, in as many lines as they take, and returns
// the height under them.
func chartHead(s *sheet.Sheet, notes []string) float64 {
	ruler := builtInRuler()
	y := s.Height - chartMargin + 1
	width := s.Width - 2*chartMargin
	for _, line := range wrapped(ruler, s.Title, 4.4, width) { // bold letters of 4 mm are a tenth wider
		y -= 5
		s.Add("notes", "notes", sheet.Text{At: geom.Point{X: chartMargin, Y: y}, Height: 4, Bold: true, Content: line})
		y -= 1
	}
	y++
	for _, note := range notes {
		for _, line := range wrapped(ruler, note, 2.5, width) {
			y -= 5
			s.Add("notes", "notes", sheet.Text{At: geom.Point{X: chartMargin, Y: y}, Height: 2.5, Content: line})
		}
	}
	return y - 4
}

// builtInRuler returns a ruler for pictures that cannot fail otherwise.
func builtInRuler() sheet.Ruler {
	ruler, err := sheet.NewRuler()
	if err != nil {
		panic("impossible: the fonts that are built in cannot be read: " + err.Error())
	}
	return ruler
}

// label writes a text on a white ground.
func label(s *sheet.Sheet, layer string, at geom.Point, content string) {
	const height = 2.2
	half := float64(len([]rune(content)))*height*letterShare/2 + 0.5
	s.Add(layer, layer, sheet.Filled("#ffffff", sheet.Box{MinX: at.X - half, MinY: at.Y - 0.7, MaxX: at.X + half, MaxY: at.Y + height + 0.5}),
		sheet.Text{At: at, Height: height, Anchor: sheet.Middle, Content: content})
}

// designsWords counts designs by verdict.
func designsWords(verdicts []ChartVerdict) string {
	count := map[toolpath.Verdict]int{}
	for _, v := range verdicts {
		count[v.Verdict]++
	}
	return fmt.Sprintf("%d designs: %d ok, %d with cautions, %d stopped, %d impossible.", len(verdicts),
		count[toolpath.OK], count[toolpath.Caution], count[toolpath.Stop], count[""])
}
