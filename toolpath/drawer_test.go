package toolpath

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/profile"
)

// TestAnyCutter: whether work can be done, and what stops it, is the same whether the
// drawer is searched for the fastest cutter or only for one that does.
func TestAnyCutter(t *testing.T) {
	b, err := profile.Build(remedyKnife(), profile.Measured{})
	require.NoError(t, err)
	stopped, sooner := 0, 0
	for name, change := range map[string]func(s *Shop){
		"default":       func(*Shop) {},
		"slow spindle":  func(s *Shop) { s.Machine.SpindleMost = 300; s.Machine.SpindleLeast = 200 },
		"slow machine":  func(s *Shop) { s.Machine.FeedMost = 4 },
		"weak motor":    func(s *Shop) { s.Machine.Power = 3 },
		"short travels": func(s *Shop) { s.Machine.TravelX = 90 },
	} {
		shop := builtInShop(t)
		change(&shop)
		for _, step := range Sequence(b, shop) {
			setup := SetupFor(b.Bar, step.Face, TurningFor(step.Operation, b, shop).Flip)
			best, all, err := planStep(b, shop, step, setup, "")
			any, tried, errAny := planStep(b, shop.AnyCutter(), step, setup, "")
			assert.Equal(t, err, errAny, name)
			if err != nil {
				continue
			}
			assert.Equal(t, Stops(best.Checks), Stops(any.Checks), "%s: %s", name, step.Operation)
			if len(Stops(best.Checks)) > 0 {
				stopped++
			}
			if len(tried) < len(all) {
				sooner++
			}
		}
	}
	assert.Positive(t, stopped, "steps that are stopped")
	assert.Positive(t, sooner, "steps for which not all cutters were tried")
}
