package main

import (
	"bytes"
	"context"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"

	"fullerwright/templates"
)

// TestEveryPatternIsProved: every pattern passes every check with the built-in shop, and
// its programs pass their proof.
func TestEveryPatternIsProved(t *testing.T) {
	for _, name := range templates.Names() {
		t.Run(name, func(t *testing.T) {
			var out, problems bytes.Buffer
			dir := t.TempDir()
			knife := filepath.Join(dir, "k.toml")
			assert.Equal(t, exitDone, run(context.Background(), []string{"new", name, "-o", knife}, &out, &problems))
			assert.Equal(t, exitDone, run(context.Background(), []string{"build", knife, "-o", filepath.Join(dir, "out")}, &out, &problems), problems.String())
			assert.Contains(t, out.String(), ": ok\n")
		})
	}
}
