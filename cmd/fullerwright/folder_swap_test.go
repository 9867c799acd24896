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

// brokenDisk does what the real disk does up to one step, counted from 1. That step
// fails as on a full disk, or the machine stops there.
type brokenDisk struct {
	quickDisk
	breaks, step int
	stops        bool
	done         []string // what each step was
}

// stopped is the machine's stop: nothing of the program runs after it.
type stopped struct{}

func (d *brokenDisk) next(what string) error {
	d.step++
	d.done = append(d.done, what)
	switch {
	case d.step != d.breaks:
		return nil
	case d.stops:
		panic(stopped{})
	}
	return syscall.ENOSPC
}

func (d *brokenDisk) makeFolder(path string) error {
	if err := d.next("makeFolder"); err != nil {
		return err
	}
	return d.quickDisk.makeFolder(path)
}

func (d *brokenDisk) makeTemporary(parent, prefix string) (string, error) {
	if err := d.next("makeTemporary"); err != nil {
		return "", err
	}
	return d.quickDisk.makeTemporary(parent, prefix)
}

// write breaks in the middle: where the machine stops, half of the file is there.
func (d *brokenDisk) write(path string, data []byte) error {
	if d.stops && d.step+1 == d.breaks {
		if err := os.WriteFile(path, data[:len(data)/2], 0o644); err != nil {
			return err
		}
	}
	if err := d.next("write"); err != nil {
		return err
	}
	return d.quickDisk.write(path, data)
}

func (d *brokenDisk) rename(from, to string) error {
	if err := d.next("rename"); err != nil {
		return err
	}
	return d.quickDisk.rename(from, to)
}

func (d *brokenDisk) remove(path string) error {
	if err := d.next("remove"); err != nil {
		return err
	}
	return d.quickDisk.remove(path)
}

// publishOn publishes on a disk and reports whether the machine stopped.
func publishOn(f folder, d disk) (halted bool, err error) {
	defer func() {
		if what := recover(); what != nil {
			if _, ok := what.(stopped); !ok {
				panic(what)
			}
			halted = true
		}
	}()
	f.disk = d
	_, err = f.publish()
	return false, err
}

// beginning is a state of the place before a folder is put there.
type beginning struct {
	name   string
	others map[string]string // files of others, by name in the folder
	make   func(t *testing.T, path string)
}

// beginnings are what may be at the place of a folder before it is published.
var beginnings = []beginning{
	{"nothing, nor the folders above", nil, func(*testing.T, string) {}},
	{"an empty folder", nil, func(t *testing.T, path string) { require.NoError(t, os.MkdirAll(path, 0o755)) }},
	{"an older build with files of others", map[string]string{"note.txt": "mine", "photographs/one.txt": "mine too"}, func(t *testing.T, path string) {
		_, err := texts(path, "a.txt", "old a", "b.txt", "old b", "gone.txt", "old").publish()
		require.NoError(t, err)
		put(t, "mine", path, "note.txt")
		put(t, "mine too", path, "photographs", "one.txt")
	}},
}

func newer(path string) folder {
	return texts(path, "a.txt", "new a", "b.txt", "new b", "c.txt", "new c")
}

// stepsOf returns each change to the disk that publishing makes.
func stepsOf(t *testing.T, begin func(*testing.T, string)) []string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "deep", "build")
	begin(t, path)
	d := &brokenDisk{}
	_, err := publishOn(newer(path), d)
	require.NoError(t, err)
	return d.done
}

// TestFullDisk: each change to the disk in turn fails. Either all is as it was, or the
// new folder is in place.
func TestFullDisk(t *testing.T) {
	for _, b := range beginnings {
		for at := 1; at <= len(stepsOf(t, b.make)); at++ {
			dir := t.TempDir()
			path := filepath.Join(dir, "deep", "build")
			b.make(t, path)
			before := listing(t, dir)
			_, err := publishOn(newer(path), &brokenDisk{breaks: at})
			if err != nil {
				assert.ErrorIs(t, err, syscall.ENOSPC)
				assert.Equal(t, before, listing(t, dir), "%s, step %d", b.name, at)
				continue
			}
			assertNewer(t, path, b.others, fmt.Sprintf("%s, step %d", b.name, at))
		}
	}
}

// halted is a folder after the machine stopped while it was being replaced.
type halted struct {
	dir, path string
	others    map[string]string
	old       map[string]string // what it held before
}

// stopAt replaces a folder on a machine that stops at a step.
func stopAt(t *testing.T, b beginning, step int, where string) halted {
	t.Helper()
	dir := t.TempDir()
	s := halted{dir: dir, path: filepath.Join(dir, "deep", "build"), others: b.others}
	b.make(t, s.path)
	s.old = folderAt(t, s.path)
	stopped, _ := publishOn(newer(s.path), &brokenDisk{breaks: step, stops: true})
	require.True(t, stopped, where)
	return s
}

// assertRecovers: nothing is mixed or lost, and the next run makes the new folder whole
// and leaves nothing beside it.
func (s halted) assertRecovers(t *testing.T, where string) {
	t.Helper()
	assertNoMix(t, s.path, s.old, where)
	assertNothingLost(t, s.dir, s.others, where)
	_, err := newer(s.path).publish()
	require.NoError(t, err, where)
	assertNewer(t, s.path, s.others, where)
	assertAlone(t, s.path, where)
}

// TestMachineStops: the machine stops at each change to the disk in turn. The place
// holds the old folder, the new one or nothing; no file of others is lost; and the next
// run makes the new folder whole and leaves nothing beside it.
func TestMachineStops(t *testing.T) {
	for _, b := range beginnings {
		for at := 1; at <= len(stepsOf(t, b.make)); at++ {
			where := fmt.Sprintf("%s, step %d", b.name, at)
			stopAt(t, b, at, where).assertRecovers(t, where)
		}
	}
}

// TestMachineStopsTwice: it stops, and stops again at each step of the run that puts
// things in order, and of those after it.
func TestMachineStopsTwice(t *testing.T) {
	b := beginnings[2]
	for first, what := range stepsOf(t, b.make) {
		if what == "write" {
			continue // TestMachineStops has these
		}
		for second := 1; ; second++ {
			where := fmt.Sprintf("steps %d and %d", first+1, second)
			s := stopAt(t, b, first+1, where)
			halted, err := publishOn(newer(s.path), &brokenDisk{breaks: second, stops: true})
			if !halted {
				require.NoError(t, err, where)
				break
			}
			s.assertRecovers(t, where)
		}
	}
}

// TestStoppedThenFull: after a stop, each step of putting things in order fails once.
// Nothing is lost, and the run after that does it.
func TestStoppedThenFull(t *testing.T) {
	b := beginnings[2]
	for first, what := range stepsOf(t, b.make) {
		if what == "write" {
			continue // TestMachineStops has these
		}
		for second := 1; ; second++ {
			where := fmt.Sprintf("steps %d and %d", first+1, second)
			s := stopAt(t, b, first+1, where)
			d := &brokenDisk{breaks: second}
			_, err := publishOn(newer(s.path), d)
			if d.step < second {
				require.NoError(t, err, where)
				break
			}
			s.assertRecovers(t, where)
		}
	}
}

// TestTwoStepsFail: a step fails, and then the step that takes one back. What the folder
// held comes back in the next run, even one that is refused.
func TestTwoStepsFail(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "build")
	beginnings[2].make(t, path)
	old := folderAt(t, path)
	_, err := publishOn(newer(path), &noWayBack{})
	assert.ErrorContains(t, err, "the next run brings it back")
	assert.Nil(t, folderAt(t, path), "not a mix")
	_, err = texts(path, "note.txt", "clash").publish()
	var refused *folderError
	assert.ErrorAs(t, err, &refused)
	assert.Equal(t, old, folderAt(t, path))
	assertAlone(t, path, "after the second run")
}

// noWayBack fails to rename from the second time on.
type noWayBack struct {
	quickDisk
	renames int
}

func (d *noWayBack) rename(from, to string) error {
	if d.renames++; d.renames > 1 {
		return syscall.EIO
	}
	return d.quickDisk.rename(from, to)
}

// TestForeignWorkshopStays: a folder that only looks like a workshop by its name is not
// touched.
func TestForeignWorkshopStays(t *testing.T) {
	for _, name := range []string{"letter.txt", "new/letter.txt", "old/letter.txt", "left/old/letter.txt"} {
		dir := t.TempDir()
		put(t, "mine", dir, ".build.fullerwright-1", filepath.FromSlash(name))
		_, err := newer(filepath.Join(dir, "build")).publish()
		require.NoError(t, err)
		assert.Equal(t, "mine", listing(t, dir)[filepath.ToSlash(filepath.Join(".build.fullerwright-1", name))], name)
	}
}

// TestAnotherFolderMeanwhile: a run was cut short between the two moves, and a person
// made a folder in the place. Neither is touched, and both are named.
func TestAnotherFolderMeanwhile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "build")
	old := filepath.Join(dir, ".build.fullerwright-1", "old")
	_, err := texts(old, "a.txt", "old").publish()
	require.NoError(t, err)
	put(t, "mine", path, "letter.txt")
	before := listing(t, dir)
	_, err = newer(path).publish()
	assert.ErrorContains(t, err, ".build.fullerwright-1")
	assert.ErrorContains(t, err, path)
	assert.Equal(t, before, listing(t, dir))
}

// TestFilesOfOthersInAWorkshop: after a stop a person put files where the program had
// not expected any. They stay, and the error names the place.
func TestFilesOfOthersInAWorkshop(t *testing.T) {
	for _, in := range []string{"new", "old"} {
		dir := t.TempDir()
		path := filepath.Join(dir, "build")
		_, err := texts(path, "a.txt", "a").publish()
		require.NoError(t, err)
		put(t, "in the folder", path, "note.txt")
		work := filepath.Join(dir, ".build.fullerwright-1")
		_, err = texts(filepath.Join(work, in), "a.txt", "a").publish()
		require.NoError(t, err)
		put(t, "in the workshop", work, in, "note.txt")
		_, err = newer(path).publish()
		assert.ErrorContains(t, err, ".build.fullerwright-1", in)
		all := listing(t, dir)
		assert.Equal(t, "in the folder", all["build/note.txt"], in)
		assert.Equal(t, "in the workshop", all[".build.fullerwright-1/"+in+"/note.txt"], in)
	}
}

// TestManyAtOnce: several runs for one place at the same time. Some may fail, but what
// is there in the end is what one of them made, whole.
func TestManyAtOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "build")
	put(t, "mine", filepath.Dir(path), "beside.txt")
	const runs, rounds = 6, 5
	var all sync.WaitGroup
	for run := range runs {
		all.Go(func() {
			for round := range rounds {
				text := fmt.Sprintf("%d of %d", round, run)
				_, _ = texts(path, "a.txt", text, "b.txt", text, "c.txt", text).publish()
				if list, found, err := readManifest(filepath.Join(path, manifestName)); err == nil && found {
					assert.Len(t, list.Files, 3)
				}
			}
		})
	}
	all.Wait()
	_, err := texts(path, "a.txt", "last", "b.txt", "last").publish()
	require.NoError(t, err, "whatever they left can be put in order")
	assertWhole(t, path, map[string]string{"a.txt": "last", "b.txt": "last"}, nil, "after all")
	assert.Equal(t, "mine", listing(t, filepath.Dir(path))["beside.txt"])
}

// folderAt returns what is in a folder, nil where there is none.
func folderAt(t *testing.T, path string) map[string]string {
	t.Helper()
	if !exists(path) {
		return nil
	}
	return listing(t, path)
}

// assertNoMix holds that a place has the old folder, the new one, or nothing.
func assertNoMix(t *testing.T, path string, old map[string]string, where string) {
	t.Helper()
	now := folderAt(t, path)
	if now == nil || assert.ObjectsAreEqual(old, now) {
		return
	}
	for name := range now {
		if strings.HasPrefix(name, "note") || strings.HasPrefix(name, "photographs") {
			delete(now, name)
		}
	}
	want := map[string]string{"./": "", manifestName: now[manifestName], "a.txt": "new a", "b.txt": "new b", "c.txt": "new c"}
	assert.Equal(t, want, now, where)
	assert.Equal(t, string(newManifest("build", newer(path).files).bytes()), now[manifestName], where)
}

// assertNothingLost holds that every file of others is somewhere.
func assertNothingLost(t *testing.T, dir string, others map[string]string, where string) {
	t.Helper()
	all := listing(t, dir)
	for name, content := range others {
		found := 0
		for at, text := range all {
			if strings.HasSuffix(at, "/"+name) && text == content {
				found++
			}
		}
		assert.Equal(t, 1, found, "%s: %s", where, name)
	}
}

func assertNewer(t *testing.T, path string, others map[string]string, where string) {
	t.Helper()
	assertWhole(t, path, map[string]string{"a.txt": "new a", "b.txt": "new b", "c.txt": "new c"}, others, where)
}

// assertWhole holds that a folder has files of ours and of others and no more, and the
// manifest of ours.
func assertWhole(t *testing.T, path string, ours, others map[string]string, where string) {
	t.Helper()
	want := map[string]string{"./": ""}
	files := map[string][]byte{}
	for name, content := range ours {
		want[name] = content
		files[name] = []byte(content)
	}
	for name, content := range others {
		want[name] = content
		if folder, _, deep := strings.Cut(name, "/"); deep {
			want[folder+"/"] = ""
		}
	}
	want[manifestName] = string(newManifest("build", files).bytes())
	assert.Equal(t, want, listing(t, path), where)
}

// assertAlone holds that nothing is left beside a folder.
func assertAlone(t *testing.T, path string, where string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	assert.Len(t, entries, 1, where)
}
