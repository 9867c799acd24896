package export

import (
	"fmt"
	"math"
	"strings"

	"fullerwright/export/sheet"
	"fullerwright/profile/geom"
	"fullerwright/toolpath"
)

// Printer is what a printer makes of true lengths, bound to the direction in which it
// feeds the paper, so that a page laid across is corrected as one laid upright is. Seen
// on the printed side, with the feed up, x is across it and y along it: a length across
// comes out Across times as long, one along comes out Along times as long and leans by
// Skew toward x. The zero value is a true printer.
type Printer struct {
	Across, Along float64
	Skew          geom.Angle
	ShortSideFeed bool // the paper's short side lies along the feed
}

// PrinterOf returns what a shop file says of its printer.
func PrinterOf(p toolpath.Paper) Printer {
	return Printer{p.PrinterX, p.PrinterY, p.PrinterSkew, p.Feed == toolpath.FeedShortSide}
}

// Corrects reports whether anything is to be made up for.
func (p Printer) Corrects() bool {
	return p.Across != 0 && (p.Across != 1 || p.Along != 1 || p.Skew != 0)
}

// feedUp reports whether a page of the given size is fed along its height.
func (p Printer) feedUp(width, height float64) bool { return (height >= width) != p.ShortSideFeed }

// warp returns the map that a page of the given size is drawn through so that it comes
// out true: the inverse of what the printer does, about the middle of the page.
func (p Printer) warp(width, height float64) sheet.Warp {
	if !p.Corrects() {
		return sheet.Warp{}
	}
	xx, xy, yy := 1/p.Across, -math.Tan(p.Skew.Radians())/p.Across, 1/(p.Along*math.Cos(p.Skew.Radians()))
	w := sheet.Warp{XX: xx, XY: xy, YY: yy, About: geom.Point{X: width / 2, Y: height / 2}}
	if !p.feedUp(width, height) { // x of the page lies along the feed, y against across
		w.XX, w.XY, w.YX, w.YY = yy, 0, -xy, xx
	}
	return w
}

// squareSide is the side of the square that is measured, mm.
const squareSide = 100.0

// SquareReadings are the four lengths measured on the printed square, mm, by the letters
// beside them: its sides across and along the feed, and its diagonals, rising and
// falling with the feed up.
type SquareReadings struct{ A, B, C, D float64 }

const (
	greatestStretch = 0.10 // beyond it the page was fitted or scaled (common practice, no source)
	cautionStretch  = 0.03 // likewise
	// readingSlack is how far the diagonals may be from what the sides make of them, mm:
	// readings with a rule are good to 0.2 or 0.3 mm (common practice, no source).
	readingSlack  = 0.6
	greatestSkew  = 2 * geom.Degree
	correctionEnd = 1e5 // a correction is rounded to one part of this
)

// Printer works out what the printer does from a square measured on a sheet that was
// printed without correction. The caution is empty where there is none. Sides a and b
// that enclose an angle give diagonals of c² + d² = 2(a² + b²) and c² - d² = 4 a b
// sin(skew): the first is a check on the readings, the second gives the skew.
func (r SquareReadings) Printer(shortSideFeed bool) (p Printer, caution string, err error) {
	var off []string
	for _, side := range []struct {
		name string
		read float64
	}{{"A", r.A}, {"B", r.B}} {
		if stretch := side.read/squareSide - 1; !(math.Abs(stretch) <= greatestStretch+1e-9) {
			return Printer{}, "", fmt.Errorf("side %s reads %g mm for %g mm: a printer may be corrected from 0.9 to 1.1; print at actual size, not fitted to the page, and measure again", side.name, side.read, squareSide)
		} else if math.Abs(stretch) > cautionStretch {
			off = append(off, fmt.Sprintf("side %s is %+.1f %% off", side.name, 100*stretch))
		}
	}
	if len(off) > 0 {
		caution = strings.Join(off, ", ") + ": more than 3 % means as a rule that the page was fitted or scaled; set the printer to actual size first"
	}
	want, have := math.Sqrt(r.A*r.A+r.B*r.B), math.Sqrt((r.C*r.C+r.D*r.D)/2)
	if !(math.Abs(want-have) <= readingSlack) {
		return Printer{}, "", fmt.Errorf("the diagonals C and D (%g and %g mm) do not belong to these sides, for which their root mean square is %.1f mm; measure again, tick to tick", r.C, r.D, want)
	}
	sine := (r.C*r.C - r.D*r.D) / (4 * r.A * r.B)
	skew := geom.Angle(math.Asin(sine))
	if math.Abs(skew.Radians()) > greatestSkew.Radians() {
		return Printer{}, "", fmt.Errorf("the diagonals tell of a lean of %.2f degrees: more than 2 is a paper that slipped or a wrong reading; print and measure again", skew.Degrees())
	}
	round := func(v float64) float64 { return math.Round(v*correctionEnd) / correctionEnd }
	return Printer{Across: round(r.A / squareSide), Along: round(r.B / squareSide), Skew: geom.Angle(round(skew.Degrees())) * geom.Degree, ShortSideFeed: shortSideFeed}, caution, nil
}

// ShopLines returns the lines that keep the correction in a shop file.
func (p Printer) ShopLines() string {
	feed := toolpath.FeedLongSide
	if p.ShortSideFeed {
		feed = toolpath.FeedShortSide
	}
	return fmt.Sprintf("[paper]\nprinter_x    = %.5f\nprinter_y    = %.5f\nprinter_skew = %.5f\nfeed         = %q\n", p.Across, p.Along, p.Skew.Degrees(), feed)
}

// words say on a sheet what was corrected.
func (p Printer) words() string {
	if !p.Corrects() {
		return "No printer correction is applied."
	}
	return fmt.Sprintf("Printer correction IS APPLIED: %.5f across, %.5f along the feed, lean %.3f°.", p.Across, p.Along, p.Skew.Degrees())
}
