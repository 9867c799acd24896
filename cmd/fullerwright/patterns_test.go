package main

import (
	"bytes"
	"context"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"fullerwright/templates"
)

// TestEveryPatternIsProved: every pattern passes every check with the built-in shop, and
// its programs pass their proof. The one caution allowed is of the inside corner that an
// end mill leaves for the file: no mill is as slender as a tang's corner.
func TestEveryPatternIsProved(t *testing.T) {
	for _, name := range templates.Names() {
		t.Run(name, func(t *testing.T) {
			var out, problems bytes.Buffer
			dir := t.TempDir()
			knife := filepath.Join(dir, "k.toml")
			assert.Equal(t, exitDone, run(context.Background(), []string{"new", name, "-o", knife}, &out, &problems))
			assert.Equal(t, exitDone, run(context.Background(), []string{"build", knife, "-o", filepath.Join(dir, "out")}, &out, &problems), problems.String())
			for _, line := range strings.Split(out.String(), "\n") {
				if strings.HasPrefix(line, "caution ") {
					assert.Contains(t, line, "corner that the cutter leaves")
				}
			}
		})
	}
}
