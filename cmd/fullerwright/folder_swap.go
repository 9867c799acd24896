package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// disk is all that changes the disk while a folder is published.
type disk interface {
	makeFolder(path string) error
	// makeTemporary makes a folder with a name of its own and returns its path.
	makeTemporary(parent, prefix string) (string, error)
	// write writes a file that must not be there yet, and waits until it is on the disk.
	write(path string, data []byte) error
	// syncFolder waits until the names in a folder are on the disk. Not every system can
	// do that; there the names are as safe as the system makes them, so no error is
	// returned.
	syncFolder(path string)
	rename(from, to string) error
	// remove removes a file or an empty folder.
	remove(path string) error
}

// realDisk is the disk of the machine.
type realDisk struct{}

func (realDisk) makeFolder(path string) error { return os.Mkdir(path, 0o755) }
func (realDisk) makeTemporary(parent, prefix string) (string, error) {
	return os.MkdirTemp(parent, prefix)
}
func (realDisk) rename(from, to string) error { return os.Rename(from, to) }
func (realDisk) remove(path string) error     { return os.Remove(path) }

func (realDisk) write(path string, data []byte) error {
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = file.Write(data)
	err = errors.Join(err, file.Sync(), file.Close())
	if err != nil {
		os.Remove(path)
	}
	return err
}

func (realDisk) syncFolder(path string) {
	if at, err := os.Open(path); err == nil {
		_ = at.Sync()
		at.Close()
	}
}

// workshop is a hidden folder beside the place of a folder, on the same disk, with a
// name of its own for each run. In it new is being written, old waits to be cleared
// away, and left is a workshop taken over from a run that was cut short.
//
// Nothing is ever removed from it but what a manifest of ours lists.
type workshop struct {
	disk  disk
	place string // the folder that is to be replaced
	path  string
}

func openWorkshop(d disk, place string) (workshop, error) {
	path, err := d.makeTemporary(filepath.Dir(place), workshopPrefix(place))
	if err != nil {
		return workshop{}, fmt.Errorf("nothing can be written in %s: %w; look at your rights to it, or name another folder", filepath.Dir(place), withoutPath(err))
	}
	return workshop{d, place, path}, nil
}

func workshopPrefix(place string) string { return "." + filepath.Base(place) + ".fullerwright-" }

func (w workshop) new() string  { return filepath.Join(w.path, "new") }
func (w workshop) old() string  { return filepath.Join(w.path, "old") }
func (w workshop) left() string { return filepath.Join(w.path, "left") }

// close clears the workshop away. What cannot be cleared, or may still be wanted, waits
// for the next run.
func (w workshop) close() {
	if clearOurs(w.disk, w.new()) == nil && !exists(w.old()) && !exists(w.left()) {
		w.disk.remove(w.path)
	}
}

// swap moves the old folder out, the new one in, and then the files of others after
// it. If a step fails, all steps before it are taken back.
func (w workshop) swap(there present) error {
	type step struct{ from, to string }
	var steps []step
	if there.exists {
		steps = append(steps, step{w.place, w.old()})
	}
	steps = append(steps, step{w.new(), w.place})
	for _, name := range there.kept {
		steps = append(steps, step{filepath.Join(w.old(), name), filepath.Join(w.place, name)})
	}
	for i, s := range steps {
		err := w.disk.rename(s.from, s.to)
		if err == nil {
			continue
		}
		for i--; i >= 0; i-- {
			if back := w.disk.rename(steps[i].to, steps[i].from); back != nil {
				return fmt.Errorf("%s cannot be put in place: %w; what it held is in %s, and the next run brings it back", w.place, err, w.path)
			}
		}
		return fmt.Errorf("%s cannot be put in place, and is as it was: %w", w.place, err)
	}
	w.disk.syncFolder(filepath.Dir(w.place))
	// The new folder is in place. If the old one cannot be cleared away now, the next
	// run does it.
	_ = clearOurs(w.disk, w.old())
	return nil
}

// takeOver looks for workshops of runs for the same place that were cut short, and puts
// in order what they left. Moving one into our own first makes sure that a run that is
// still at work there cannot go on: it fails at its next step and says so.
func (w workshop) takeOver() error {
	entries, err := os.ReadDir(filepath.Dir(w.place))
	if err != nil {
		return fmt.Errorf("the folder %s cannot be read: %w", filepath.Dir(w.place), err)
	}
	for _, entry := range entries {
		from := filepath.Join(filepath.Dir(w.place), entry.Name())
		if from == w.path || !strings.HasPrefix(entry.Name(), workshopPrefix(w.place)) || !isWorkshop(from) {
			continue
		}
		if err := w.disk.rename(from, w.left()); err != nil {
			return fmt.Errorf("%s, left by a run that was cut short, cannot be moved: %w", from, err)
		}
		if err := (workshop{w.disk, w.place, w.left()}).restore(); err != nil {
			w.disk.rename(w.left(), from)
			return fmt.Errorf("%s was left by a run that was cut short; take from it what you want, then remove it: %w", from, err)
		}
	}
	return nil
}

// restore puts in order what a run that was cut short left in its workshop.
func (w workshop) restore() error {
	if exists(w.left()) {
		if err := (workshop{w.disk, w.place, w.left()}).restore(); err != nil {
			return err
		}
	}
	switch {
	case !exists(w.old()):
	case !exists(w.place):
		// Cut short between the two moves: the old folder comes back.
		if err := w.disk.rename(w.old(), w.place); err != nil {
			return err
		}
	default:
		if err := w.bringOthers(); err != nil {
			return err
		}
	}
	return errors.Join(clearOurs(w.disk, w.old()), clearOurs(w.disk, w.new()), w.disk.remove(w.path))
}

// bringOthers moves the files of others from the old folder to the new one.
func (w workshop) bringOthers() error {
	_, found, err := readManifest(filepath.Join(w.place, manifestName))
	if err != nil {
		return err
	}
	if !found {
		return refuse("it holds what was in %s, and another folder is there now; move one of them away", w.place)
	}
	before, _, err := readManifest(filepath.Join(w.old(), manifestName))
	if err != nil {
		return err
	}
	ours := before.byName()
	entries, err := os.ReadDir(w.old())
	if err != nil {
		return err
	}
	for _, entry := range entries {
		name := entry.Name()
		if _, listed := ours[name]; listed || name == manifestName {
			continue
		}
		to := filepath.Join(w.place, name)
		if exists(to) {
			return refuse("%s is in it and in %s; move one of them away", name, w.place)
		}
		if err := w.disk.rename(filepath.Join(w.old(), name), to); err != nil {
			return err
		}
	}
	return nil
}

// isWorkshop reports whether a folder holds nothing but what a workshop holds.
func isWorkshop(path string) bool {
	entries, err := os.ReadDir(path)
	if err != nil {
		return false
	}
	for _, entry := range entries {
		at := filepath.Join(path, entry.Name())
		switch {
		case !entry.IsDir():
			return false
		case entry.Name() == "left" && isWorkshop(at):
		case (entry.Name() == "new" || entry.Name() == "old") && isOurs(at):
		default:
			return false
		}
	}
	return true
}

// isOurs reports whether a folder carries our manifest, or is empty, or has nothing but
// a manifest that was not written to its end.
func isOurs(path string) bool {
	entries, err := os.ReadDir(path)
	if err != nil {
		return false
	}
	if len(entries) == 0 || len(entries) == 1 && entries[0].Name() == manifestName {
		return true
	}
	_, found, err := readManifest(filepath.Join(path, manifestName))
	return found && err == nil
}

// clearOurs removes a folder with the files that its manifest lists, the manifest last.
// Where it holds anything else it stays, with that.
func clearOurs(d disk, path string) error {
	if !exists(path) {
		return nil
	}
	// A manifest that was not written to its end lists nothing, and stands alone.
	list, _, _ := readManifest(filepath.Join(path, manifestName))
	names := []string{}
	for _, file := range list.Files {
		names = append(names, file.Name)
	}
	for _, name := range append(names, manifestName) {
		if err := d.remove(filepath.Join(path, name)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return d.remove(path)
}

func exists(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}
