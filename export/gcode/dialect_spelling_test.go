package gcode

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fullerwright/toolpath"
	"fullerwright/toolpath/dialect"
	"fullerwright/toolpath/motion"
)

// wholeProgram looks whether a file is complete in itself and keeps to its dialect.
func wholeProgram(t *testing.T, job *toolpath.Job, d dialect.Dialect, p Program, text []byte, about string) {
	t.Helper()
	lines := strings.Split(strings.TrimSuffix(string(text), d.LineEnd.Bytes()), d.LineEnd.Bytes())
	for _, line := range lines {
		if len(line) > d.LineMost || strings.Contains(line, "\n") {
			t.Fatalf("%q\n%s", line, about)
		}
	}
	if d.FileBlocksMost > 0 {
		require.LessOrEqual(t, len(lines), d.FileBlocksMost, about)
	}
	if d.FileBytesMost > 0 {
		require.LessOrEqual(t, len(text), d.FileBytesMost, about)
	}
	require.Equal(t, d.End, p.Ended, about)
	spelledAs(t, d, lines, about)
	first, last := true, motion.Motion{}
	for _, m := range p.Motions {
		if m.Kind > motion.Arc {
			continue
		}
		if first {
			require.Equal(t, motion.Rapid, m.Kind, about)
			require.InDelta(t, job.Clearance, m.To.Z, 0.01, about)
		}
		if m.Kind == motion.Arc {
			has := m.Plane == motion.PlaneXY && d.ArcsXY && (d.Helices || m.From.Z == m.To.Z) || m.Plane == motion.PlaneZX && d.ArcsZX
			if !has || math.Abs(m.Sweep) > d.SweepMost.Radians()+0.01+4*rounded(d, p.Inch)/m.Length() {
				t.Fatalf("%+v\n%s", m, about)
			}
		}
		if m.Kind != motion.Rapid {
			if m.Spindle != motion.SpindleClockwise || m.Speed != job.Spindle || m.Mist || !m.Flood {
				t.Fatalf("%+v\n%s", m, about)
			}
		}
		first, last = false, m
	}
	require.Equal(t, motion.Rapid, last.Kind, about)
	require.InDelta(t, job.Clearance, last.To.Z, 0.01, about)
	waited := 0.0
	for _, m := range p.Motions {
		if m.Kind == motion.Dwell {
			waited += m.Seconds
		}
	}
	require.InDelta(t, d.SpindleWait, waited, 0.01, about)
	if d.Tool == dialect.ToolChange {
		require.Equal(t, 7, last.Slot, about)
	}
}

// moving matches a block that moves, without its number.
var moving = regexp.MustCompile(`^(G0 |G1 |G2 |G3 |G83 )?(X\S+ ?)?(Y\S+ ?)?(Z\S+ ?)?(I\S+ ?)?(J\S+ ?)?(K\S+ ?)?(R\S+ ?)?(Q\S+ ?)?(F\S+)?$`)

// spelledAs looks at the words of each line: block numbers, comments, words repeated or
// not, centres or radii.
func spelledAs(t *testing.T, d dialect.Dialect, lines []string, about string) {
	t.Helper()
	if d.Percent {
		require.Equal(t, [2]string{"%", "%"}, [2]string{lines[0], lines[len(lines)-1]}, about)
		lines = lines[1 : len(lines)-1]
	}
	marks := map[dialect.Comments]string{dialect.Parentheses: "(", dialect.Semicolon: ";"}
	number, mode, fed := 0, "", false
	for _, line := range lines {
		hold := func(ok bool, rule string) {
			if !ok {
				t.Fatalf("%s: %q\n%s", rule, line, about)
			}
		}
		if strings.HasPrefix(line, "(") || strings.HasPrefix(line, ";") {
			hold(marks[d.Comments] == line[:1], "marks of comments")
			hold(len(line) <= d.CommentMost, "length of comments")
			continue
		}
		if strings.HasPrefix(line, "O") {
			continue
		}
		words := line
		if d.BlockNumbers.Step > 0 {
			if number += d.BlockNumbers.Step; number > d.BlockNumbers.Most {
				number = d.BlockNumbers.Step
			}
			hold(strings.HasPrefix(line, fmt.Sprintf("N%d ", number)), "block number")
			_, words, _ = strings.Cut(line, " ")
		}
		hold(!strings.Contains(words, "N"), "no more block numbers")
		m := moving.FindStringSubmatch(words)
		if m == nil || m[2]+m[3]+m[4] == "" {
			fed = strings.HasPrefix(words, "F")
			continue
		}
		hold(!d.RepeatMotion || m[1] != "", "word of motion repeated")
		hold(d.RepeatMotion || m[1] == "G83 " || mode != m[1], "word of motion not repeated")
		if m[1] != "" {
			mode = m[1]
		}
		hold(!d.RepeatAxes || mode == "G0 " || m[2] != "" && m[3] != "" && m[4] != "", "axes repeated")
		hold(!d.RepeatFeed || mode == "G0 " || m[10] != "" || fed, "feed repeated")
		fed = false
		if mode == "G2 " || mode == "G3 " {
			hold((d.ArcForm == dialect.ByRadius) == (m[8] != "") && (d.ArcForm == dialect.ByCentre) == (m[5] != ""), "form of arcs")
		}
	}
	for _, word := range []string{d.WorkOffset, d.PathMode} {
		if word != "none" {
			require.Regexp(t, `(?m)(^|\s)`+regexp.QuoteMeta(word)+`$`, strings.Join(lines, "\n"), about)
		}
	}
}

var programNumber = regexp.MustCompile(`(?m)^O([0-9]+)\r?$`)

// numbered looks whether a file says which of how many it is.
func numbered(t *testing.T, d dialect.Dialect, file, files int, text []byte) {
	t.Helper()
	if d.ProgramNumber > 0 {
		m := programNumber.FindSubmatch(text)
		require.NotNil(t, m)
		n, err := strconv.Atoi(string(m[1]))
		require.NoError(t, err)
		require.Equal(t, d.ProgramNumber+file, n)
	}
	if d.Comments != dialect.NoComments && files > 1 {
		require.Contains(t, strings.Join(strings.Fields(string(text)), " "), fmt.Sprintf("FILE %d OF %d", file+1, files))
	}
}
