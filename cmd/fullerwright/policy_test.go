package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const root = "../.."

// layers is the table of imports: a package may import those of our packages that
// begin with one of the names beside it, and no others. Imports run one way, from the
// command down to the geometry.
var layers = map[string][]string{
	"cmd/fullerwright":  {"export", "toolpath", "profile", "templates"},
	"export":            {"export/sheet", "toolpath", "profile", "templates"},
	"export/sheet":      {"profile/geom"},
	"export/gcode":      {"toolpath", "profile"},
	"toolpath":          {"toolpath/cutting", "toolpath/dialect", "toolpath/mismatch", "toolpath/motion", "toolpath/proof", "profile"},
	"toolpath/proof":    {"toolpath/motion"},
	"toolpath/cutting":  {},
	"toolpath/dialect":  {"profile/document", "profile/geom"},
	"toolpath/mismatch": {},
	"toolpath/motion":   {},
	"profile":           {"profile/document", "profile/geom", "profile/lettering", "profile/material", "profile/search", "profile/strength"},
	"profile/material":  {},
	"profile/search":    {},
	"profile/strength":  {},
	"profile/document":  {},
	"profile/geom":      {},
	"profile/lettering": {"profile/geom"},
	"profile/match":     {"profile"},
	"templates":         {},
}

// libraries is the table of what else is imported: each library with the packages that
// may import it. Tests may import any of them but the drawing library; "tests" stands
// for a library that nothing else may.
var libraries = map[string][]string{
	"github.com/tdewolff/canvas":           {"export", "export/sheet"},
	"golang.org/x/image":                   {"export/sheet"},
	"github.com/spf13/pflag":               {"cmd/fullerwright"},
	"golang.org/x/text":                    {"export/gcode"},
	"golang.org/x/term":                    {"cmd/fullerwright"},
	"github.com/creack/pty":                {"tests"},
	"github.com/pelletier/go-toml":         {"profile/document"},
	"gonum.org/v1/gonum":                   {"profile", "profile/geom", "profile/lettering", "profile/match", "profile/search", "toolpath/cutting"},
	"github.com/stretchr/testify":          {"tests"},
	"github.com/peterstace/simplefeatures": {"tests"},
	"github.com/rogpeppe/go-internal":      {"tests"},
}

func TestImports(t *testing.T) {
	seen := map[string]bool{}
	err := filepath.WalkDir(root, func(name string, entry fs.DirEntry, err error) error {
		require.NoError(t, err)
		if entry.IsDir() && strings.HasPrefix(entry.Name(), ".") && name != root {
			return filepath.SkipDir
		}
		if entry.IsDir() || !strings.HasSuffix(name, ".go") {
			return nil
		}
		relative, err := filepath.Rel(root, name)
		require.NoError(t, err)
		folder := path.Dir(filepath.ToSlash(relative))
		seen[folder] = true
		allowed, known := layers[folder]
		if !assert.True(t, known, "%s is in no layer", folder) {
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		require.NoError(t, err)
		for _, spec := range file.Imports {
			checkImport(t, folder, relative, strings.Trim(spec.Path.Value, `"`), allowed)
		}
		return nil
	})
	require.NoError(t, err)
	for folder := range layers {
		assert.True(t, seen[folder], "the layer %s has no package", folder)
	}
}

func checkImport(t *testing.T, folder, file, imported string, allowed []string) {
	t.Helper()
	test := strings.HasSuffix(file, "_test.go")
	// Nothing that is written may depend on the day or on chance.
	for _, banned := range []string{"time", "math/rand", "math/rand/v2", "crypto/rand"} {
		assert.False(t, !test && imported == banned, "%s imports %s", file, banned)
	}
	ours, isOurs := strings.CutPrefix(imported, "fullerwright/")
	switch first, _, _ := strings.Cut(imported, "/"); {
	case isOurs && test && (ours == "templates" || under(folder, []string{ours})): // a test may use the package that its own belongs to
	case isOurs:
		assert.True(t, under(ours, allowed), "%s imports %s, against the table of layers", file, imported)
	case strings.Contains(first, "."):
		checkLibrary(t, folder, file, imported)
	}
}

// checkLibrary holds an import of a library against the table. The standard library,
// whose names have no dot, is free to all.
func checkLibrary(t *testing.T, folder, file, imported string) {
	t.Helper()
	for library, by := range libraries {
		if !under(imported, []string{library}) {
			continue
		}
		ok := slices.Contains(by, folder) || strings.HasSuffix(file, "_test.go") && library != "github.com/tdewolff/canvas"
		assert.True(t, ok, "%s imports %s, against the table of libraries", file, imported)
		return
	}
	t.Errorf("%s imports %s, which is not in the table of libraries", file, imported)
}

// under reports whether a path is one of those given, or lies below one.
func under(name string, tops []string) bool {
	return slices.ContainsFunc(tops, func(top string) bool { return name == top || strings.HasPrefix(name, top+"/") })
}

// TestTopLevel holds the top level of the tree. What git ignores, such as a build of
// the program, is no part of it.
func TestTopLevel(t *testing.T) {
	allowed := map[string]bool{"cmd": true, "profile": true, "toolpath": true, "export": true, "templates": true, "testdata": true,
		"go.mod": true, "go.sum": true, "README.md": true, "DEVELOPERS.md": true, "CAUTIONS.md": true, "LICENSE": true}
	entries, err := os.ReadDir(root)
	require.NoError(t, err)
	ignored, err := os.ReadFile(filepath.Join(root, ".gitignore"))
	require.NoError(t, err)
	found := map[string]bool{}
	for _, entry := range entries {
		found[entry.Name()] = true
		outside := strings.HasPrefix(entry.Name(), ".") || isIgnored(t, entry.Name(), string(ignored))
		assert.True(t, outside || allowed[entry.Name()], "%s is not of the agreed top level", entry.Name())
	}
	for name := range allowed {
		assert.True(t, found[name], "%s is missing from the top level", name)
		assert.False(t, isIgnored(t, name, string(ignored)), "%s is ignored by git", name)
	}
}

// isIgnored reports whether one of the patterns of a .gitignore, each a name without
// folders, is that of a name at the top level.
func isIgnored(t *testing.T, name, patterns string) bool {
	t.Helper()
	for pattern := range strings.FieldsSeq(patterns) {
		matched, err := path.Match(strings.Trim(pattern, "/"), name)
		require.NoError(t, err)
		if matched {
			return true
		}
	}
	return false
}
