package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"
)

// folder is a build folder that is to appear whole or not at all.
type folder struct {
	path    string
	command string            // that makes it, as its manifest says
	files   map[string][]byte // by plain name; no subfolders
	disk    disk              // nil for the real one; tests put a broken one in its place
}

// published says what became of a folder.
type published struct {
	written int      // files of this run that are in the folder
	removed []string // files of an earlier run that this one has not
	kept    []string // files of others, left as they are
}

// folderError says why a folder or a file was left as it was.
type folderError struct{ problems []string }

func (e *folderError) Error() string { return strings.Join(e.problems, "\n") }

func refuse(format string, values ...any) error {
	return &folderError{[]string{fmt.Sprintf(format, values...)}}
}

// publish puts the folder in place, or changes nothing and says why.
//
// A folder that is there already is replaced only if this program made it, as its
// manifest tells, or if it is empty. If a person edited one of the files listed there,
// nothing is changed at all: an edited program beside a new report, or a new program
// beside a report that speaks of an edited one, would look proved and not be. Files
// that the manifest does not list belong to others and stay.
//
// All files are first written beside the place, in a workshop (see workshop); then
// the old folder is moved out and the new one in. Whenever the run is cut short, the
// place holds the old folder, the new one, or nothing, never a mix, and the next run
// puts in order what was left.
func (f folder) publish() (published, error) {
	if f.disk == nil {
		f.disk = realDisk{}
	}
	if err := f.checkNames(); err != nil {
		return published{}, err
	}
	place, err := f.place()
	if err != nil {
		return published{}, err
	}
	made, err := makeParents(f.disk, filepath.Dir(place))
	if err != nil {
		return published{}, fmt.Errorf("the folder %s cannot be made: %w", f.path, err)
	}
	done, err := f.publishAt(place)
	if err != nil {
		for i := len(made) - 1; i >= 0; i-- {
			f.disk.remove(made[i]) // only while empty
		}
	}
	return done, err
}

// place returns the path of the folder from the root of the disk.
func (f folder) place() (string, error) {
	place, err := filepath.Abs(f.path)
	if err != nil {
		return "", fmt.Errorf("the folder %s cannot be found: %w", f.path, err)
	}
	if place == filepath.Dir(place) {
		return "", refuse("%s is the root of the disk, which nothing can take the place of; name a folder in it", f.path)
	}
	return place, nil
}

// ready refuses, before any work is done, what publish refuses whatever the files are.
func (f folder) ready() error {
	place, err := f.place()
	if err != nil {
		return err
	}
	_, err = f.look(place)
	return err
}

// publishAt puts the folder in a place whose parent is there.
func (f folder) publishAt(place string) (published, error) {
	w, err := openWorkshop(f.disk, place)
	if err != nil {
		return published{}, err
	}
	there, err := f.publishFrom(w)
	w.close()
	if err != nil {
		return published{}, err
	}
	return published{written: len(f.files), removed: there.removed, kept: there.kept}, nil
}

// publishFrom makes the folder in a workshop and puts it in place.
func (f folder) publishFrom(w workshop) (present, error) {
	if err := w.takeOver(); err != nil {
		return present{}, err
	}
	there, err := f.look(w.place)
	if err != nil || there.same {
		return there, err
	}
	if err := f.stage(w.new(), there.mode); err != nil {
		return present{}, err
	}
	return there, w.swap(there)
}

// checkNames holds names to plain ones: none may lead out of the folder.
func (f folder) checkNames() error {
	for name := range f.files {
		if !plainName(name) || name == manifestName {
			return refuse("%q cannot be the name of a file in %s", name, f.path)
		}
	}
	return nil
}

// plainName reports whether a name stands for a file in a folder itself, on any system.
func plainName(name string) bool {
	return name != "" && name != "." && name != ".." && !strings.ContainsAny(name, `/\:`)
}

// makeParents makes the folders that are missing and returns those it made.
func makeParents(d disk, path string) ([]string, error) {
	var missing []string
	for at := path; ; at = filepath.Dir(at) {
		if _, err := os.Stat(at); err == nil || at == filepath.Dir(at) {
			break
		}
		missing = append([]string{at}, missing...)
	}
	for i, at := range missing {
		if err := d.makeFolder(at); err != nil {
			for ; i > 0; i-- {
				d.remove(missing[i-1])
			}
			return nil, err
		}
	}
	return missing, nil
}

// stage writes all files into a new folder. The manifest comes first: what it lists can
// be cleared away if the run is cut short.
func (f folder) stage(at string, mode fs.FileMode) error {
	if err := f.disk.makeFolder(at); err != nil {
		return fmt.Errorf("nothing can be written beside %s: %w", f.path, err)
	}
	list := newManifest(f.command, f.files)
	if err := f.disk.write(filepath.Join(at, manifestName), list.bytes()); err != nil {
		return fmt.Errorf("%s cannot be written: %w", manifestName, err)
	}
	for _, file := range list.Files {
		if err := f.disk.write(filepath.Join(at, file.Name), f.files[file.Name]); err != nil {
			return fmt.Errorf("%s cannot be written: %w", file.Name, err)
		}
	}
	if err := os.Chmod(at, mode); err != nil {
		return fmt.Errorf("nothing can be written beside %s: %w", f.path, err)
	}
	f.disk.syncFolder(at)
	return nil
}

// present is what is at the place of a folder before it is published.
type present struct {
	exists        bool
	same          bool // nothing would change
	mode          fs.FileMode
	kept, removed []string
}

// look finds out what is at the place, and refuses what must not be replaced.
func (f folder) look(place string) (present, error) {
	info, err := os.Lstat(place)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return present{mode: 0o755}, nil
	case err != nil:
		return present{}, fmt.Errorf("the folder %s cannot be looked at: %w; name another", f.path, withoutPath(err))
	case info.Mode()&fs.ModeSymlink != 0:
		return present{}, refuse("%s is a link; name the folder that it points to, or choose another with -o", f.path)
	case !info.IsDir():
		return present{}, refuse("%s is there and is no folder; choose another with -o", f.path)
	case info.Mode()&0o200 == 0:
		return present{}, refuse("%s is read-only; choose another with -o", f.path)
	case holdsWorkingFolder(info):
		return present{}, refuse("%s is the folder you are in, or holds it; name one inside it with -o", f.path)
	}
	entries, err := os.ReadDir(place)
	if err != nil {
		return present{}, fmt.Errorf("the folder %s cannot be read: %w", f.path, err)
	}
	before, found, err := readManifest(filepath.Join(place, manifestName))
	switch {
	case err != nil:
		return present{}, err
	case !found && len(entries) > 0:
		return present{}, refuse("%s holds files and was not made by this program; choose another folder with -o", f.path)
	case found && before.Command != f.command:
		return present{}, refuse("%s holds what %q made, which %q would remove; choose another folder with -o", f.path, before.Command, f.command)
	}
	there, problems := f.compare(place, entries, before)
	if len(problems) > 0 {
		return present{}, &folderError{problems}
	}
	there.exists, there.mode = true, info.Mode().Perm()
	there.same = there.same && found && before.equal(newManifest(f.command, f.files))
	return there, nil
}

// compare looks at each file of a folder: what belongs to others and is kept, what this
// run has not, whether all is as this run has it, and what stands in the way.
func (f folder) compare(place string, entries []os.DirEntry, before manifest) (there present, problems []string) {
	ours, found := before.byName(), 0
	for _, entry := range entries {
		name := entry.Name()
		old, listed := ours[name]
		_, wanted := f.files[name]
		switch {
		case name == manifestName:
		case !listed && wanted:
			problems = append(problems, fmt.Sprintf("%s in %s was not made by this program; move it away, or choose another folder with -o", name, f.path))
		case !listed:
			there.kept = append(there.kept, name)
		case !entry.Type().IsRegular() || !old.holds(filepath.Join(place, name)):
			problems = append(problems, fmt.Sprintf("%s in %s was edited since it was made; move it away, or choose another folder with -o", name, f.path))
		case !wanted:
			there.removed = append(there.removed, name)
		default:
			found++
		}
	}
	there.same = found == len(f.files) && len(there.removed) == 0
	return there, problems
}

// holdsWorkingFolder reports whether a folder is the working folder or one that holds
// it. Moving it out of the way would leave the person's shell in a folder that is gone.
func holdsWorkingFolder(info fs.FileInfo) bool {
	at, err := os.Getwd()
	if err != nil {
		return false
	}
	for ; ; at = filepath.Dir(at) {
		if one, err := os.Stat(at); err == nil && os.SameFile(one, info) {
			return true
		}
		if at == filepath.Dir(at) {
			return false
		}
	}
}

// writeFileWhole writes one file whole: into a temporary one beside it, then in its
// place. A file that is there already is not overwritten.
func writeFileWhole(path string, data []byte) error {
	temporary, err := os.CreateTemp(filepath.Dir(path), ".fullerwright-")
	if err != nil {
		return fmt.Errorf("%s cannot be written: %w; make its folder, or look at your rights to it", path, withoutPath(err))
	}
	defer os.Remove(temporary.Name())
	_, err = temporary.Write(data)
	if err = errors.Join(err, temporary.Chmod(0o644), temporary.Sync(), temporary.Close()); err != nil {
		return fmt.Errorf("%s cannot be written: %w", path, err)
	}
	return putNew(temporary.Name(), path, os.Link)
}

// withoutPath takes the path out of an error of the operating system: that of a file of ours
// says nothing to the maker.
func withoutPath(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	return err
}

// putNew gives a finished file its name, unless something has it already. A link fails
// where the name is taken; a rename would overwrite. Some disks, sticks with FAT above
// all, have no links: there the name is looked at before the rename.
func putNew(temporary, path string, link func(from, to string) error) error {
	err := link(temporary, path)
	if err != nil && !exists(path) {
		err = os.Rename(temporary, path)
	}
	switch {
	case err == nil:
		return nil
	case exists(path):
		return refuse("%s is there already and is left as it is; choose another with -o", path)
	}
	return fmt.Errorf("%s cannot be written: %w", path, err)
}

// sortedNames returns the names of files in order.
func sortedNames(files map[string][]byte) []string {
	names := make([]string, 0, len(files))
	for name := range files {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}
