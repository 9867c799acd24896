package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// millimetresSaid finds a length in millimetres, a feed, an area or a volume.
var millimetresSaid = regexp.MustCompile(`\d mm\b|\bmm[234²³]|[^"] mm\b`)

// stress is the unit of a stress, which the sheets of inch shops have too.
var stress = regexp.MustCompile(`N/mm[2²]`)

// TestInchKnivesAreSpokenToInInches: whatever is asked of a knife in inches, nothing but what
// is metric by its name, a thread and its drill, is told in millimetres. The knife has every
// operation, and faults and checks that stop it are asked for too.
func TestInchKnivesAreSpokenToInInches(t *testing.T) {
	dir := t.TempDir()
	path := func(name string) string { return filepath.Join(dir, name) }
	ask := func(want int, arguments ...string) string {
		var out, told bytes.Buffer
		assert.Equal(t, want, run(context.Background(), arguments, &out, &told), "%v\n%s%s", arguments, &out, &told)
		said := strings.ReplaceAll(out.String()+told.String(), "drill 5.0 mm", "")
		for _, line := range strings.Split(said, "\n") {
			assert.NotRegexp(t, millimetresSaid, stress.ReplaceAllString(line, ""), "%v", arguments)
		}
		return said
	}
	ask(exitDone, "new", "tarn", "--units", "in", "-o", path("knife.toml"))
	data, err := os.ReadFile(path("knife.toml"))
	require.NoError(t, err)
	vary := func(name, depth, mark string) {
		changed := regexp.MustCompile(`(?m)^depth .*\n.*`).ReplaceAllString(string(data), depth)
		changed += "\n[mark]\ntext = \"" + mark + "\"\nat = 0.3\n[[hole]]\nat = -2\nfrom_spine = 0.6\ndiameter = \"4 mm\"\n"
		require.NoError(t, os.WriteFile(path(name), []byte(changed), 0o600))
	}
	vary("all.toml", "depth = 0.0315", "AB")
	vary("deep.toml", "depth = 0.075", "AB")
	vary("faults.toml", "depth = 0.3", "a letter Ж that is far too long for a knife of this length")

	said := ask(exitDone, "check", path("all.toml"))
	assert.Regexp(t, `web, fuller 1: 0\.1\d{3} in, at least 0\.0591 \(\d\.\d\d in from the guard plane\)`, said, "1.5 mm of the shop file's limit are 0.0591 in")
	assert.Regexp(t, `surface speed at the effective diameter: \d+ ft/min`, said)
	assert.Contains(t, ask(exitStop, "check", path("deep.toml")), "would do")
	ask(exitInput, "check", path("faults.toml"))
	ask(exitDone, "measure", path("all.toml"))
	ask(exitDone, "measure", path("all.toml"), "--at", "2")
	ask(exitInput, "measure", path("all.toml"), "--at", "60")
	ask(exitDone, "compare", path("knife.toml"), path("all.toml"))
	ask(exitDone, "resize", path("knife.toml"), "--length", "7.4", "-o", path("longer.toml"))
	ask(exitStop, "resize", path("deep.toml"), "--stock", "0.15", "-o", path("thin.toml"))
	ask(exitStop, "aim", path("knife.toml"), "--balance", "0.9", "--by", "bevel.height")
	ask(exitDone, "range", path("knife.toml"), "--vary", "fuller.depth=0.03..0.09:0.06")
	ask(exitInput, "range", path("knife.toml"), "--vary", "fuller.depth=0.09..90:6")
}
