package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
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
	"cmd/fullerwright": {"export", "toolpath", "profile", "templates"},
	"export":           {"export/sheet", "toolpath", "profile", "templates"},
	"export/sheet":     {"profile/geom"},
	"export/gcode":     {"toolpath", "profile"},
	"toolpath":         {"toolpath/cutting", "toolpath/motion", "toolpath/proof", "profile"},
	"toolpath/proof":   {"toolpath/motion"},
	"toolpath/cutting": {},
	"toolpath/motion":  {},
	"profile":          {"profile/document", "profile/geom"},
	"profile/document": {},
	"profile/geom":     {},
	"templates":        {},
}

// testsOnly are libraries that only tests may import.
var testsOnly = []string{"github.com/stretchr/testify", "github.com/peterstace/simplefeatures", "github.com/rogpeppe/go-internal"}

// drawing are the packages that may import the drawing library.
var drawing = map[string]bool{"export": true, "export/sheet": true}

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
	for _, library := range testsOnly {
		assert.False(t, !test && strings.HasPrefix(imported, library), "%s imports %s, which is for tests", file, imported)
	}
	if strings.HasPrefix(imported, "github.com/tdewolff/canvas") {
		assert.True(t, drawing[folder], "%s imports the drawing library", file)
	}
	// Nothing that is written may depend on the day.
	assert.False(t, !test && imported == "time", "%s imports time", file)
	ours, isOurs := strings.CutPrefix(imported, "fullerwright/")
	if !isOurs || test && (ours == "templates" || ours == folder) {
		return
	}
	for _, name := range allowed {
		if ours == name || strings.HasPrefix(ours, name+"/") {
			return
		}
	}
	t.Errorf("%s imports %s, against the table of layers", file, imported)
}

// TestTopLevel holds the top level of the tree.
func TestTopLevel(t *testing.T) {
	allowed := map[string]bool{"cmd": true, "profile": true, "toolpath": true, "export": true, "templates": true, "testdata": true,
		"go.mod": true, "go.sum": true, "README.md": true, "DEVELOPERS.md": true, "CAUTIONS.md": true, "LICENSE": true}
	entries, err := os.ReadDir(root)
	require.NoError(t, err)
	found := map[string]bool{}
	for _, entry := range entries {
		found[entry.Name()] = true
		hidden := strings.HasPrefix(entry.Name(), ".") || entry.Name() == outputFolder
		assert.True(t, hidden || allowed[entry.Name()], "%s is not of the agreed top level", entry.Name())
	}
	for name := range allowed {
		assert.True(t, found[name], "%s is missing from the top level", name)
	}
}
