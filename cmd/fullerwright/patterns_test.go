package main

import (
	"bytes"
	"context"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/templates"
	"fullerwright/toolpath"
)

// TestEveryPatternIsProved: every pattern passes every check with the built-in shop, and
// its programs pass their proof. The one caution allowed is of the inside corner that an
// end mill leaves for the file, where the smallest of the drawer does not reach.
func TestEveryPatternIsProved(t *testing.T) {
	for _, name := range templates.Names() {
		t.Run(name, func(t *testing.T) {
			var out, problems bytes.Buffer
			knife := filepath.Join(t.TempDir(), "k.toml")
			require.Equal(t, exitDone, run(context.Background(), []string{"new", name, "-o", knife}, &out, &problems))
			p := &program{ctx: context.Background(), stdout: &out, stderr: &problems, progress: &progress{}}
			read, err := (&inputs{}).read([]string{knife})
			require.NoError(t, err)
			w, err := p.proved(read, proving{out: filepath.Join(t.TempDir(), "out")}, func(toolpath.Step) bool { return true })
			require.NoError(t, err, out.String())
			for _, h := range w.byHand {
				assert.Equal(t, toolpath.Slot, h.step.Operation, "only the slot of a slender tang is left for drill and file: %s", h.why)
			}
			for _, c := range w.allChecks() {
				if c.Verdict == toolpath.Caution {
					assert.Contains(t, c.Name, "corner that the cutter leaves")
				}
			}
		})
	}
}
