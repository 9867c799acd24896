package document

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestSentences: 25.4 mm are an inch and 0.3048 m a foot, exactly (international yard and
// pound agreement, 1959), so that what is said in inches is known without the code.
func TestSentences(t *testing.T) {
	for _, c := range []struct {
		says     Sentence
		mm, inch string
		reason   string
	}{
		{Say("a depth of %.2f mm would do", 12.7), "a depth of 12.70 mm would do", "a depth of 0.5000 in would do", "the number, not its digits, is taken"},
		{Say("%.3f mm", 25.39999), "25.400 mm", "1.0000 in", "rounded once"},
		{Say("from %.1f to %.1f mm", 25.4, 50.8), "from 25.4 to 50.8 mm", "from 1.000 to 2.000 in", "two of one unit"},
		{Say("%.3f x %.3f x %.3f mm", 254.0, 25.4, 2.54), "254.000 x 25.400 x 2.540 mm", "10.0000 x 1.0000 x 0.1000 in", "three of one unit"},
		{Say("%8.2f %d", Dimension(25.4), 3), "   25.40 3", "  1.0000 3", "a table keeps its columns"},
		{Say("%7.1f", Area(645.16)), "  645.2", " 1.0000", "an area"},
		{Say("takes off %.0f mm3", 16387.064), "takes off 16387 mm3", "takes off 1.0000 in3", "a volume"},
		{Say("%.0f mm²", 6451.6), "6452 mm²", "10.000 in²", "not the length before a raised 2"},
		{Say("%.1f mm4", 416231.4256), "416231.4 mm4", "1.000000 in4", "a second moment"},
		{Say("%.0f mm/min", 508.0), "508 mm/min", "20.0 in/min", "a feed"},
		{Say("%.0f m/min", 30.48), "30 m/min", "100 ft/min", "a surface speed"},
		{Say("%g mm long", 63.5), "63.5 mm long", "2.5 in long", "a short number stays short"},
		{Say("%.1f mm in front", 25.4), "25.4 mm in front", "1.000 inches in front", "in after in is read twice"},
		{Say("share %.0f %% of %.0f N/mm2, %.1f degrees", 52.0, 800.0, 20.0), "share 52 % of 800 N/mm2, 20.0 degrees", "share 52 % of 800 N/mm2, 20.0 degrees", "what is no length stays"},
		{Say("the cutter %s", "ball 6 mm"), "the cutter ball 6 mm", "the cutter ball 6 mm", "a name stays"},
		{Words(`type "4.2 mm", not 12.7 mm: 100%d`), `type "4.2 mm", not 12.7 mm: 100%d`, `type "4.2 mm", not 0.500 in: 100%d`, "what is quoted stays, and a text has no verbs"},
		{Say("%s: %s", "edge", Say("%.1f mm", 25.4)), "edge: 25.4 mm", "edge: 1.000 in", "a sentence in a sentence"},
		{Say("at %.0f mm", 254.0).And(", %.0f mm off", 25.4), "at 254 mm, 25 mm off", "at 10.00 in, 1.00 in off", "more words"},
		{Say("area %s", UnitName("mm2")), "area mm2", "area in2", "a unit alone"},
		{Say("-%.1f mm", 2.54), "-2.5 mm", "-0.100 in", "a sign stays"},
		{Sentence{}, "", "", "the zero value"},
	} {
		assert.Equal(t, c.mm, c.says.String(), c.reason)
		assert.Equal(t, c.inch, c.says.In(Inch), c.reason)
		assert.Equal(t, c.mm == "", c.says.Empty(), c.reason)
	}
}

// TestAndLeavesTheFirst: two endings of one sentence do not share their values.
func TestAndLeavesTheFirst(t *testing.T) {
	first := Say("%d", 1)
	a, b := first.And(" %d", 2), first.And(" %d", 3)
	assert.Equal(t, []string{"1", "1 2", "1 3"}, []string{first.String(), a.String(), b.String()})
}

// TestUnitSays: values and decimals in the reader's unit.
func TestUnitSays(t *testing.T) {
	for unit, want := range map[string]float64{"mm": 10, "mm/min": 10, "mm2": 254 / 645.16, "g": 254, "%": 254, "N/mm²": 254} {
		said, _ := Inch.Say(254, unit)
		assert.InDelta(t, want, said, 1e-12, unit)
		same, name := Millimetre.Say(254, unit)
		assert.Equal(t, 254.0, same, unit)
		assert.Equal(t, unit, name)
	}
	assert.Equal(t, []int{2, 3, 4, 4, 5, 1}, []int{Inch.Decimals(0, "mm"), Inch.Decimals(1, "mm"), Inch.Decimals(2, "mm"), Inch.Decimals(3, "mm"), Inch.Decimals(4, "mm"), Inch.Decimals(1, "g")})
}
