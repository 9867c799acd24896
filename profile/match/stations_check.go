package match

import (
	"fmt"
	"math"
	"strings"

	"fullerwright/profile"
)

const (
	inch = 25.4 // mm; exact since the international yard and pound agreement of 1959
	// sameStation is how near two stations are one, mm: finer than a blade is marked out.
	sameStation = 0.01
	// fewestStations are the fewest from which a blade can be told: two on the straight
	// part and two on the way to the point.
	fewestStations = 4
)

// check looks at the table as a whole.
func (t *stationTable) check() {
	t.checkColumns()
	t.checkStations()
	t.checkUnits()
	t.checkShape()
}

func (t *stationTable) checkColumns() {
	for i, col := range t.columns {
		full, broken := false, false
		for _, row := range t.rows {
			if i < len(row) {
				full = full || row[i].ok
				broken = broken || row[i].raw != "" && !row[i].ok
			}
		}
		if col.known && !full && !broken {
			t.fault(0, fmt.Sprintf("column %d, %s", i+1, col.name), "", "the column is empty", "fill it, or take its heading out")
		}
	}
	for _, row := range t.rows {
		at, there := t.station(row)
		if !there && at.raw == "" {
			line := 0
			if len(row) > 0 {
				line = row[0].line
			}
			t.fault(line, "x", "", "the row has no station", "give its distance from the guard plane, or delete the row")
		}
	}
}

func (t *stationTable) checkStations() {
	blade, behind := 0, 0
	for i, row := range t.rows {
		x, there := t.station(row)
		if !there {
			continue
		}
		if x.mm >= 0 {
			blade++
		} else {
			behind++
		}
		for _, before := range t.rows[:i] {
			if other, ok := t.station(before); ok && math.Abs(other.mm-x.mm) < sameStation {
				t.fault(x.line, "x", x.raw, fmt.Sprintf("this station stands already in line %d", other.line), "keep one of them, or write their mean")
				break
			}
		}
	}
	if blade < fewestStations && behind >= fewestStations {
		t.fault(0, "x", "", fmt.Sprintf("%d of the stations are behind the guard plane and %d in front of it, which tells no blade", behind, blade),
			"count x from the guard plane toward the point; if these are stations of the blade, take their minus signs away")
	} else if blade < fewestStations {
		t.fault(0, "", "", fmt.Sprintf("%d stations in front of the guard plane tell no blade; it takes %d at least", blade, fewestStations),
			"measure every 10 mm or so, closer toward the point, and the point itself")
	}
}

// checkUnits compares the greatest number of each column with what a knife can have, by
// the parameter table, and names a length that is 25.4 times off.
func (t *stationTable) checkUnits() {
	limits := limitsOf()
	greatest := map[string]cell{}
	for _, row := range t.rows {
		for i, c := range row {
			if i < len(t.columns) && c.ok && (!t.columns[i].x || c.mm > 0) {
				size := c
				size.mm = math.Abs(c.mm)
				if old, there := greatest[t.columns[i].name]; !there || size.mm > old.mm {
					greatest[t.columns[i].name] = size
				}
			}
		}
	}
	for _, col := range t.columns {
		c, there := greatest[col.name]
		if !col.known || !there {
			continue
		}
		key := "blade.width"
		switch {
		case col.x:
			key = "blade.length"
		case col.kind == Thickness:
			key = "blade.thickness"
		case col.kind == Spine || col.kind == Edge:
			key = "height"
		}
		limit := limits[key]
		t.checkSize(c, col.name, limit)
	}
}

// limit is between what a length may lie, mm.
type limit struct{ least, most float64 }

func (l limit) holds(v float64) bool { return v >= l.least && v <= l.most }

// limitsOf returns the limits of the parameter table that a size in the hand is held
// against. Heights may be over any line, so that only their most is bounded.
func limitsOf() map[string]limit {
	out := map[string]limit{}
	for _, group := range profile.Table() {
		for _, p := range group.Parameters {
			out[group.Name+"."+p.Name] = limit{p.Min, p.Max}
		}
	}
	out["height"] = limit{0, 2 * out["blade.width"].most}
	return out
}

func (t *stationTable) checkSize(c cell, name string, l limit) {
	if l.holds(c.mm) {
		return
	}
	field := fmt.Sprintf("column %d, %s", c.column, name)
	rule := fmt.Sprintf("the greatest here is %.4g mm, and no knife of ours has one outside %g to %g mm", c.mm, l.least, l.most)
	if hint := t.wrongUnit(c.mm, l); hint != "" {
		t.fault(c.line, field, c.raw, rule, hint)
		return
	}
	t.fault(c.line, field, c.raw, rule, "correct it")
}

// wrongUnit says in which unit a length would be one of a knife, and nothing where in none.
func (t *stationTable) wrongUnit(mm float64, l limit) string {
	typed := mm / t.eachNumber()
	var fit []string
	for _, u := range []struct {
		name string
		mm   float64
	}{{"mm", 1}, {Centimetre, 10}, {"in", inch}} {
		if u.name != t.unitName() && l.holds(typed*u.mm) {
			fit = append(fit, fmt.Sprintf("%.4g %s would be %.4g mm", typed, u.name, typed*u.mm))
		}
	}
	if len(fit) == 0 {
		return ""
	}
	return strings.Join(fit, ", ") + ": name the unit it is in, in the heading or with --units"
}

// eachNumber returns what one of a plain number is, mm.
func (t *stationTable) eachNumber() float64 {
	if t.centimetres {
		return 10
	}
	return t.unit.Millimetres()
}
