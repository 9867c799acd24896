package match

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile/document"
)

// TestReadingsAreNamedAsTheTableHasThem: 9.252 in are 235.0008 mm.
func TestReadingsAreNamedAsTheTableHasThem(t *testing.T) {
	r := Reading{Kind: Spine, X: 235.0008, Line: 24}
	assert.Equal(t, "spine at 9.2520 in (line 24)", r.Name(document.Inch))
	assert.Equal(t, "spine at 235.0 (line 24)", r.Name(document.Millimetre))
}

// TestWhatNoCaliperShowsIsNotWrong: among readings that follow to a ten-thousandth one is
// off by 0.015 mm, less than two steps of a caliper's display, and another by 0.05 mm.
func TestWhatNoCaliperShowsIsNotWrong(t *testing.T) {
	truth := anotherSize(t, "rook", rand.New(rand.NewPCG(4, 95)))
	m := calipered(t, truth, stations(truth), func() float64 { return 0 })
	m.Readings[30].Value += 0.015
	m.Readings[45].Value -= 0.05
	wrong := matched(t, "rook", m).Wrong()
	require.Len(t, wrong, 1)
	assert.Equal(t, m.Readings[45], wrong[0].Reading)
}

// TestTableDrawnEdgeUp: a table of a knife held edge up is told from one that no family
// made.
func TestTableDrawnEdgeUp(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 96))
	truth := anotherSize(t, "tarn", r)
	m := calipered(t, truth, stations(truth), normal(r, 0.05))
	over := turnedOver(m)
	assert.Equal(t, -m.Readings[0].Value, over.Readings[0].Value)
	assert.Equal(t, Edge, over.Readings[0].Kind)
	families := []Family{family("tarn"), family("wren")}
	got, err := Match(over, families, Options{})
	require.NoError(t, err)
	assert.False(t, got.Verdict.Reproduced)
	assert.True(t, got.BetterMirrored)
	got, err = Match(m, families, Options{})
	require.NoError(t, err)
	assert.True(t, got.Verdict.Reproduced)
	assert.False(t, got.BetterMirrored)
}
