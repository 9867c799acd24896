package document_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"fullerwright/profile/document"
)

func TestApplyLeavesEveryOtherByte(t *testing.T) {
	source := "\xef\xbb\xbf# head\r\n[blade] # size\r\n  length=  178 # as typed\r\nwidth = '1 1/2 in'\r\n[[taper]]\r\nat=1.0\r\n[[taper]]\r\nat = \"2,5 cm\" #x"
	edits := []document.Edit{
		{Group: "blade", Key: "length", Kind: document.Length, Value: 190.25},
		{Group: "blade", Key: "width", Kind: document.Length, Value: 44.45},
		{Group: "blade", Key: "thickness", Kind: document.Length, Value: 4.8},
		{Group: "taper", Index: 1, Key: "at", Kind: document.Length, Value: 31},
		{Group: "plunge", Key: "radius", Kind: document.Length, Value: 3.3},
	}
	want := "\xef\xbb\xbf# head\r\n[blade] # size\r\nthickness = 4.8\r\n  length=  190.250000 # as typed\r\nwidth = '1 3/4 in'\r\n[[taper]]\r\nat=1.0\r\n[[taper]]\r\nat = \"3,1 cm\" #x\r\n\r\n[plunge]\r\nradius = 3.3\r\n"
	assert.Equal(t, want, string(document.Apply([]byte(source), document.Millimetre, edits)))
	assert.Equal(t, source, string(document.Apply([]byte(source), document.Millimetre, nil)))
}

// TestFreshValues: a value that owes nothing to the number before takes the fewest
// decimals that hold it, and keeps the unit.
func TestFreshValues(t *testing.T) {
	source := "[blade]\nlength = 178\nwidth = \"1 1/4 in\"\nthickness = 4.80000\n[edge]\nfullness = 0.5\n"
	edits := []document.Edit{
		{Group: "blade", Key: "length", Kind: document.Length, Value: 175.99, Fresh: true},
		{Group: "blade", Key: "width", Kind: document.Length, Value: 1.234 * 25.4, Fresh: true},
		{Group: "blade", Key: "thickness", Kind: document.Length, Value: 4.7, Fresh: true},
		{Group: "edge", Key: "fullness", Kind: document.Number, Value: 0.52, Fresh: true},
	}
	want := "[blade]\nlength = 175.99\nwidth = \"1.234 in\"\nthickness = 4.7\n[edge]\nfullness = 0.52\n"
	assert.Equal(t, want, string(document.Apply([]byte(source), document.Millimetre, edits)))
}

// TestNotedDefaultsComeAndGo: a default that is written is marked, and its line goes, with the
// header that came with it, when the key has its default again; a line that a person wrote or
// changed stays.
func TestNotedDefaultsComeAndGo(t *testing.T) {
	for _, end := range []string{"\n", "\r\n"} {
		source := strings.ReplaceAll("# head\n[blade]\nlength = 178 # mine\n", "\n", end)
		edit := func(group, key string, value float64, usual bool) document.Edit {
			return document.Edit{Group: group, Key: key, Kind: document.Length, Value: value, Exact: true, Noted: true, Usual: usual}
		}
		there := document.Apply([]byte(source), document.Millimetre, []document.Edit{
			edit("blade", "thickness", 5.35, false), edit("bar", "spine_allowance", 2.14, false), edit("bar", "edge_allowance", 2.14, false), edit("plunge", "radius", 3.21, false)})
		want := strings.ReplaceAll("# head\n[blade]\nthickness = 5.35  # the default, resized\nlength = 178 # mine\n\n"+
			"[bar]  # the default, resized\nspine_allowance = 2.14  # the default, resized\nedge_allowance = 2.14  # the default, resized\n\n"+
			"[plunge]  # the default, resized\nradius = 3.21  # the default, resized\n", "\n", end)
		assert.Equal(t, want, string(there))
		back := []document.Edit{edit("blade", "thickness", 5, true), edit("bar", "spine_allowance", 2, true), edit("bar", "edge_allowance", 2, true), edit("plunge", "radius", 3, true)}
		assert.Equal(t, source, string(document.Apply(there, document.Millimetre, back)))
		mine := bytes.Replace(there, []byte("edge_allowance = 2.14  # the default, resized"), []byte("edge_allowance = 2.14  # mine"), 1)
		assert.Equal(t, source+end+"[bar]  # the default, resized"+end+"edge_allowance = 2.00  # mine"+end, string(document.Apply(mine, document.Millimetre, back)))
	}
}
