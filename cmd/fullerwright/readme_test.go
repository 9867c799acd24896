package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fullerwright/templates"
)

// TestReadmeKnife builds the knife file that the README shows, with the measured values
// that it shows, just as a reader would type them.
func TestReadmeKnife(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	blocks := regexp.MustCompile("(?s)```toml\n(.*?)```").FindAllSubmatch(readme, -1)
	// Whole files begin with their units; other blocks show a few keys to add to one.
	blocks = slices.DeleteFunc(blocks, func(b [][]byte) bool { return !bytes.HasPrefix(b[1], []byte("units")) })
	require.Len(t, blocks, 2)
	dir := t.TempDir()
	knife, shop := filepath.Join(dir, "my.toml"), filepath.Join(dir, "shop.toml")
	require.NoError(t, os.WriteFile(knife, blocks[0][1], 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "my.measured.toml"), blocks[1][1], 0o644))
	require.NoError(t, os.WriteFile(shop, templates.Shop(), 0o644))
	var out, problems bytes.Buffer
	code := run(context.Background(), []string{"build", knife, "-o", filepath.Join(dir, "out"), "--shop", shop}, &out, &problems)
	assert.Equal(t, exitDone, code, "%s%s", out.String(), problems.String())
	report, err := os.ReadFile(filepath.Join(dir, "out", "report.txt"))
	require.NoError(t, err)
	assert.Contains(t, string(report), "BAR, as measured: 301.500")
}

// TestReadmeCommands: every command line of the README names a command and flags that
// there are.
func TestReadmeCommands(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	lines := regexp.MustCompile(`(?m)^fullerwright (\w+)`).FindAllSubmatch(readme, -1)
	require.NotEmpty(t, lines)
	for _, line := range lines {
		_, found := commandNamed(string(line[1]))
		assert.True(t, found, "%s", line[0])
	}
}

// TestInterrupted: an interrupt leaves nothing behind.
func TestInterrupted(t *testing.T) {
	dir := t.TempDir()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var out, problems bytes.Buffer
	code := run(ctx, []string{"build", "-o", filepath.Join(dir, "out")}, &out, &problems)
	assert.Equal(t, exitStop, code)
	assert.Contains(t, problems.String(), "interrupted; nothing was written")
	assert.Len(t, listing(t, dir), 1)
}

// BenchmarkBuild is the whole main job on the default pattern.
func BenchmarkBuild(b *testing.B) {
	for i := range b.N {
		var out, problems bytes.Buffer
		code := run(context.Background(), []string{"build", "-o", filepath.Join(b.TempDir(), "out", string(rune('a'+i%26)))}, &out, &problems)
		require.Equal(b, exitDone, code, problems.String())
	}
}
