package main

import (
	"errors"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// listing returns every file under a folder with its content.
func listing(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(path string, entry os.DirEntry, err error) error {
		require.NoError(t, err)
		name, err := filepath.Rel(dir, path)
		require.NoError(t, err)
		if entry.IsDir() {
			out[name+"/"] = ""
			return nil
		}
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		out[name] = string(data)
		return nil
	}))
	return out
}

func twoFiles(path, a, b string) folder {
	return folder{path: path, files: map[string][]byte{"a.txt": []byte(a), "b.txt": []byte(b)}}
}

func TestPublishNewAndAgain(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "deep", "build")
	done, err := twoFiles(path, "one", "two").publish()
	require.NoError(t, err)
	assert.Equal(t, 2, done.written)
	require.NoError(t, os.WriteFile(filepath.Join(path, "note.txt"), []byte("mine"), 0o644))
	done, err = folder{path: path, files: map[string][]byte{"a.txt": []byte("three")}}.publish()
	require.NoError(t, err)
	assert.Equal(t, []string{"note.txt"}, done.kept)
	got := listing(t, path)
	assert.Equal(t, "three", got["a.txt"])
	assert.Equal(t, "mine", got["note.txt"])
	assert.NotContains(t, got, "b.txt", "a file of the old build that the new one has not is gone")
	entries, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	assert.Len(t, entries, 1, "no temporary folder is left")
}

// TestFullDisk: the disk fills up at each file in turn, on a new folder and on one that
// is there; nothing is changed.
func TestFullDisk(t *testing.T) {
	for _, there := range []bool{false, true} {
		for _, fails := range []string{"a.txt", "b.txt", manifestName} {
			dir := t.TempDir()
			path := filepath.Join(dir, "build")
			if there {
				_, err := twoFiles(path, "old", "old").publish()
				require.NoError(t, err)
			}
			before := listing(t, dir)
			f := twoFiles(path, "new", "new")
			f.write = func(name string, data []byte) error {
				if filepath.Base(name) == fails {
					return &os.PathError{Op: "write", Path: name, Err: syscall.ENOSPC}
				}
				return writeNew(name, data)
			}
			_, err := f.publish()
			assert.ErrorIs(t, err, syscall.ENOSPC)
			assert.Equal(t, before, listing(t, dir), "%s, there %v", fails, there)
		}
	}
}

// TestUnwritable: a parent that nothing can be made in. Root may write anywhere, so the
// parent is a file.
func TestUnwritable(t *testing.T) {
	dir := t.TempDir()
	parent := filepath.Join(dir, "file")
	require.NoError(t, os.WriteFile(parent, []byte("x"), 0o644))
	before := listing(t, dir)
	_, err := twoFiles(filepath.Join(parent, "build"), "a", "b").publish()
	assert.Error(t, err)
	assert.Equal(t, before, listing(t, dir))
}

func TestEditedAndForeignFiles(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "build")
	_, err := twoFiles(path, "one", "two").publish()
	require.NoError(t, err)
	for _, name := range []string{"a.txt", "b.txt"} {
		require.NoError(t, os.WriteFile(filepath.Join(path, name), []byte("by hand"), 0o644))
	}
	before := listing(t, dir)
	_, err = twoFiles(path, "three", "four").publish()
	var refused *folderError
	require.True(t, errors.As(err, &refused))
	assert.Len(t, refused.problems, 2, "both are named at once")
	assert.Equal(t, before, listing(t, dir))
}

func TestManifestThatIsNone(t *testing.T) {
	for _, text := range []string{"{", `{"program":"other"}`, `{"program":"fullerwright","files":[{"name":"../x"}]}`} {
		path := filepath.Join(t.TempDir(), "build")
		require.NoError(t, os.Mkdir(path, 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(path, manifestName), []byte(text), 0o644))
		_, err := twoFiles(path, "a", "b").publish()
		assert.Error(t, err, text)
		assert.Len(t, listing(t, path), 2, text)
	}
}

func TestSymlinkIsRefused(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(dir, "real"), 0o755))
	require.NoError(t, os.Symlink("real", filepath.Join(dir, "link")))
	_, err := twoFiles(filepath.Join(dir, "link"), "a", "b").publish()
	assert.ErrorContains(t, err, "is no folder")
}

func TestWriteFileWhole(t *testing.T) {
	path := filepath.Join(t.TempDir(), "k.toml")
	require.NoError(t, writeFileWhole(path, []byte("one")))
	assert.Error(t, writeFileWhole(path, []byte("two")), "a file that is there stays")
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "one", string(data))
	entries, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	assert.Len(t, entries, 1)
}

func TestSafeName(t *testing.T) {
	for name, want := range map[string]string{"Tarn": "tarn", "../../etc": "etc", "": "knife", "Große Klinge 7\"": "gro-e-klinge-7", "...": "knife"} {
		assert.Equal(t, want, safeName(name))
		assert.False(t, strings.ContainsAny(safeName(name), "/\\."))
	}
	names := twoFiles("x", "a", "b").names()
	assert.True(t, sort.StringsAreSorted(names))
}
