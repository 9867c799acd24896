package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
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
		switch {
		case entry.IsDir():
			out[name+"/"] = ""
		case entry.Type().IsRegular():
			data, err := os.ReadFile(path)
			require.NoError(t, err)
			out[name] = string(data)
		default:
			to, err := os.Readlink(path)
			require.NoError(t, err)
			out[name] = "-> " + to
		}
		return nil
	}))
	return out
}

// texts makes a folder of files with the given names and contents in turn.
func texts(path string, namesAndContents ...string) folder {
	files := map[string][]byte{}
	for i := 0; i < len(namesAndContents); i += 2 {
		files[namesAndContents[i]] = []byte(namesAndContents[i+1])
	}
	return folder{path: path, command: "build", files: files, disk: quickDisk{}}
}

// quickDisk is the real disk without waiting for it.
type quickDisk struct{ realDisk }

func (quickDisk) syncFolder(string) {}

func (quickDisk) write(path string, data []byte) error {
	if exists(path) {
		return os.ErrExist
	}
	return os.WriteFile(path, data, 0o644)
}

func put(t *testing.T, content string, path ...string) {
	t.Helper()
	at := filepath.Join(path...)
	require.NoError(t, os.MkdirAll(filepath.Dir(at), 0o755))
	require.NoError(t, os.WriteFile(at, []byte(content), 0o644))
}

func TestPublishNewAndAgain(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "deep", "build")
	done, err := texts(path, "a.txt", "one", "b.txt", "two").publish()
	require.NoError(t, err)
	assert.Equal(t, published{written: 2}, done)
	put(t, "mine", path, "note.txt")
	put(t, "mine too", path, "photographs", "one.txt")
	done, err = texts(path, "a.txt", "three").publish()
	require.NoError(t, err)
	assert.Equal(t, published{written: 1, removed: []string{"b.txt"}, kept: []string{"note.txt", "photographs"}}, done)
	got := listing(t, filepath.Dir(path))
	delete(got, "build/manifest.json")
	assert.Equal(t, map[string]string{"./": "", "build/": "", "build/a.txt": "three", "build/note.txt": "mine",
		"build/photographs/": "", "build/photographs/one.txt": "mine too"}, got, "and no workshop is left beside it")
}

// TestPublishSameAgain: where nothing would change, not even the folder is another one.
func TestPublishSameAgain(t *testing.T) {
	path := filepath.Join(t.TempDir(), "build")
	f := texts(path, "a.txt", "one", "b.txt", "two")
	f.disk = nil
	_, err := f.publish()
	require.NoError(t, err)
	before, err := os.Stat(path)
	require.NoError(t, err)
	_, err = f.publish()
	require.NoError(t, err)
	after, err := os.Stat(path)
	require.NoError(t, err)
	assert.True(t, os.SameFile(before, after))
	require.NoError(t, os.Remove(filepath.Join(path, "b.txt")))
	_, err = f.publish()
	require.NoError(t, err)
	assert.Equal(t, "two", listing(t, path)["b.txt"], "a file that was taken away comes back")
	_, err = texts(path, "a.txt", "one", "b.txt", "three").publish()
	require.NoError(t, err)
	assert.Equal(t, "three", listing(t, path)["b.txt"], "the same names are not the same files")
}

// TestManifestNamesWhatIsThere holds the digest to a published value: SHA-256 of "abc"
// as in FIPS 180-2, appendix B.1, from memory of the standard.
func TestManifestNamesWhatIsThere(t *testing.T) {
	path := filepath.Join(t.TempDir(), "build")
	_, err := texts(path, "b.txt", "", "a.txt", "abc").publish()
	require.NoError(t, err)
	list, found, err := readManifest(filepath.Join(path, manifestName))
	require.NoError(t, err)
	require.True(t, found)
	require.Len(t, list.Files, 2)
	assert.Equal(t, manifestFile{"a.txt", 3, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"}, list.Files[0])
	assert.Equal(t, "b.txt", list.Files[1].Name)
}

// TestRefused: each of these is left exactly as it was, with a word on why and how to
// go on.
func TestRefused(t *testing.T) {
	cases := []struct {
		name    string
		prepare func(t *testing.T, path string)
		want    []string
	}{
		{"every edited file is named at once, one whose content stays the same among them", func(t *testing.T, path string) {
			_, err := texts(path, "a.txt", "new", "b.txt", "old", "c.txt", "old").publish()
			require.NoError(t, err)
			for _, name := range []string{"a.txt", "b.txt", "c.txt"} {
				put(t, "by hand", path, name)
			}
		}, []string{"a.txt in", "b.txt in", "c.txt in", "was edited since it was made; move it away"}},
		{"a link in a file's place counts as edited", func(t *testing.T, path string) {
			_, err := texts(path, "a.txt", "old").publish()
			require.NoError(t, err)
			put(t, "old", filepath.Dir(path), "elsewhere")
			require.NoError(t, os.Remove(filepath.Join(path, "a.txt")))
			require.NoError(t, os.Symlink("../elsewhere", filepath.Join(path, "a.txt")))
		}, []string{"a.txt in", "was edited"}},
		{"a file of the same name that a person made", func(t *testing.T, path string) {
			_, err := texts(path, "c.txt", "old").publish()
			require.NoError(t, err)
			put(t, "by hand", path, "a.txt")
		}, []string{"a.txt in", "was not made by this program"}},
		{"a folder of somebody else", func(t *testing.T, path string) {
			put(t, "holiday", path, "letter.txt")
		}, []string{"holds files and was not made by this program"}},
		{"a file", func(t *testing.T, path string) { put(t, "x", path) }, []string{"is no folder"}},
		{"a link to a folder", func(t *testing.T, path string) {
			require.NoError(t, os.Mkdir(path+"-real", 0o755))
			require.NoError(t, os.Symlink("build-real", path))
		}, []string{"is a link"}},
		{"a link to nothing", func(t *testing.T, path string) {
			require.NoError(t, os.Symlink("nowhere", path))
		}, []string{"is a link"}},
		{"a read-only folder", func(t *testing.T, path string) {
			require.NoError(t, os.Mkdir(path, 0o555))
		}, []string{"is read-only"}},
		{"the working folder", func(t *testing.T, path string) {
			require.NoError(t, os.Mkdir(path, 0o755))
			t.Chdir(path)
		}, []string{"is the folder you are in"}},
		{"a folder that holds the working folder", func(t *testing.T, path string) {
			require.NoError(t, os.MkdirAll(filepath.Join(path, "deep", "er"), 0o755))
			t.Chdir(filepath.Join(path, "deep", "er"))
		}, []string{"or holds it"}},
		{"half a manifest", func(t *testing.T, path string) { put(t, "{", path, manifestName) }, []string{"is not a manifest of this program"}},
		{"the manifest of another program", func(t *testing.T, path string) { put(t, `{"program":"other"}`, path, manifestName) }, []string{"is not a manifest of this program"}},
		{"a manifest that names its parent", func(t *testing.T, path string) {
			put(t, `{"program":"fullerwright","files":[{"name":".."}]}`, path, manifestName)
		}, []string{`lists ".."`}},
		{"a manifest that leads outside", func(t *testing.T, path string) {
			put(t, `{"program":"fullerwright","files":[{"name":"../x"}]}`, path, manifestName)
		}, []string{`lists "../x"`}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, "build")
			c.prepare(t, path)
			before := listing(t, dir)
			_, err := texts(path, "a.txt", "new", "b.txt", "new").publish()
			var refused *folderError
			require.ErrorAs(t, err, &refused)
			for _, part := range c.want {
				assert.ErrorContains(t, err, part)
			}
			assert.Equal(t, before, listing(t, dir))
		})
	}
}

func TestNamesStayInside(t *testing.T) {
	for _, name := range []string{"../a", "..", ".", "", "/a", `..\a`, "a/b", "c:a", manifestName} {
		dir := t.TempDir()
		_, err := texts(filepath.Join(dir, "build"), name, "x").publish()
		var refused *folderError
		assert.ErrorAs(t, err, &refused, "%q", name)
		assert.Len(t, listing(t, dir), 1, "%q", name)
	}
}

// TestUnwritable: a place where nothing can be made. Root may write anywhere, so what
// should hold the folder is a file.
func TestUnwritable(t *testing.T) {
	dir := t.TempDir()
	put(t, "x", dir, "file")
	before := listing(t, dir)
	_, err := texts(filepath.Join(dir, "file", "deep", "build"), "a.txt", "a").publish()
	assert.ErrorContains(t, err, "cannot be made")
	assert.Equal(t, before, listing(t, dir))
}

// TestFolderKeepsItsMode: a folder that only its owner may read stays so.
func TestFolderKeepsItsMode(t *testing.T) {
	path := filepath.Join(t.TempDir(), "build")
	require.NoError(t, os.Mkdir(path, 0o700))
	_, err := texts(path, "a.txt", "one").publish()
	require.NoError(t, err)
	info, err := os.Stat(path)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o700), info.Mode().Perm())
}

func TestWriteFileWhole(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "k.toml")
	require.NoError(t, writeFileWhole(path, []byte("one")))
	var refused *folderError
	assert.ErrorAs(t, writeFileWhole(path, []byte("two")), &refused, "a file that is there stays")
	require.NoError(t, os.Symlink("nowhere", filepath.Join(dir, "link")))
	assert.ErrorAs(t, writeFileWhole(filepath.Join(dir, "link"), []byte("two")), &refused, "so does a link, even to nothing")
	assert.Error(t, writeFileWhole(filepath.Join(dir, "no", "k.toml"), []byte("two")))
	assert.Equal(t, map[string]string{"./": "", "k.toml": "one", "link": "-> nowhere"}, listing(t, dir))
}

// TestDiskWithoutLinks: a file gets its name on a disk that has no links, and still
// does not take the name of another.
func TestDiskWithoutLinks(t *testing.T) {
	dir := t.TempDir()
	put(t, "new", dir, "temporary")
	put(t, "old", dir, "taken")
	noLinks := func(from, to string) error { return &os.LinkError{Op: "link", Old: from, New: to, Err: syscall.EPERM} }
	var refused *folderError
	assert.ErrorAs(t, putNew(filepath.Join(dir, "temporary"), filepath.Join(dir, "taken"), noLinks), &refused)
	assert.NoError(t, putNew(filepath.Join(dir, "temporary"), filepath.Join(dir, "free"), noLinks))
	assert.Equal(t, map[string]string{"./": "", "taken": "old", "free": "new"}, listing(t, dir))
}

// TestWriteFileWholeOnce: of many writers of one file at the same time one succeeds,
// and what it wrote is what is there.
func TestWriteFileWholeOnce(t *testing.T) {
	const writers, rounds = 8, 5
	for round := range rounds {
		path := filepath.Join(t.TempDir(), "k.toml")
		var all sync.WaitGroup
		start := make(chan struct{})
		won := make(chan string, writers)
		for writer := range writers {
			all.Go(func() {
				<-start
				if text := fmt.Sprint(writer); writeFileWhole(path, []byte(text)) == nil {
					won <- text
				}
			})
		}
		close(start)
		all.Wait()
		require.Len(t, won, 1, "round %d", round)
		assert.Equal(t, <-won, listing(t, filepath.Dir(path))["k.toml"])
	}
}

func TestSafeName(t *testing.T) {
	for name, want := range map[string]string{"Tarn": "tarn", "../../etc": "etc", "": "knife", "Große Klinge 7\"": "gro-e-klinge-7", "...": "knife"} {
		assert.Equal(t, want, safeName(name))
		assert.False(t, strings.ContainsAny(safeName(name), "/\\."))
	}
}

// TestFolderIsReady: what publish refuses whatever the files are is refused before the work,
// and what it takes is not.
func TestFolderIsReady(t *testing.T) {
	at := t.TempDir()
	file := filepath.Join(at, "file")
	require.NoError(t, os.WriteFile(file, []byte("mine"), 0o644))
	made := texts(filepath.Join(at, "made"), "a.nc", "a")
	assert.NoError(t, made.ready(), "nothing there")
	_, err := made.publish()
	require.NoError(t, err)
	assert.NoError(t, made.ready(), "made by the same command")
	for name, f := range map[string]folder{
		"a file":          texts(file),
		"a strange one":   texts(at),
		"the root":        texts("/"),
		"another command": {path: made.path, command: "mill", disk: quickDisk{}},
	} {
		assert.Error(t, f.ready(), name)
	}
	require.NoError(t, os.WriteFile(filepath.Join(made.path, "a.nc"), []byte("edited"), 0o644))
	assert.Error(t, made.ready(), "edited by hand")
}
