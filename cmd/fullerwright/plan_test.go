package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/toolpath"
)

// TestPlanKnowsTheShopsPrinter: the sheets for the bench make up for the printer of the
// shop file, readings on top of that are refused, and neither paper nor printer nor the
// maker's name changes the figure that matches paper and programs.
func TestPlanKnowsTheShopsPrinter(t *testing.T) {
	in := inputs{}
	read, err := in.read(nil)
	require.NoError(t, err)
	plain, err := prepare(read)
	require.NoError(t, err)
	o, _, err := planOptions(plain, planFlags{})
	require.NoError(t, err)
	assert.False(t, o.Printer.Corrects())

	read.shop.Paper.PrinterX, read.shop.Paper.PrinterY, read.shop.Paper.Feed = 0.992, 1.001, toolpath.FeedShortSide
	read.knife.Maker = "A. Smith"
	known, err := prepare(read)
	require.NoError(t, err)
	o, _, err = planOptions(known, planFlags{})
	require.NoError(t, err)
	assert.Equal(t, []any{0.992, 1.001, true}, []any{o.Printer.Across, o.Printer.Along, o.Printer.ShortSideFeed})
	assert.Equal(t, plain.digest, known.digest)
	_, _, err = planOptions(known, planFlags{printer: "99.2,100.1,141.4,140.5"})
	assert.ErrorContains(t, err, "correct twice")
}
