package document_test

import (
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
	want := "\xef\xbb\xbf# head\r\n[blade] # size\r\nthickness = 4.8\r\n  length=  190.2500 # as typed\r\nwidth = '1 3/4 in'\r\n[[taper]]\r\nat=1.0\r\n[[taper]]\r\nat = \"3,1 cm\" #x\r\n\r\n[plunge]\r\nradius = 3.3\r\n"
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
