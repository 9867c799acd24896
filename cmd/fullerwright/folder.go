package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"
)

// manifestName is the file in a build folder that lists what the program wrote there.
const manifestName = "manifest.json"

// manifest lists the files of a build as they were written.
type manifest struct {
	Program string         `json:"program"`
	Files   []manifestFile `json:"files"`
}

type manifestFile struct {
	Name   string `json:"name"`
	Size   int    `json:"size"`
	SHA256 string `json:"sha256"`
}

func digest(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// folder is a build folder that is to appear whole or not at all.
type folder struct {
	path  string
	files map[string][]byte // by name; no subfolders
	// write puts one file on disk; tests put a full disk in its place.
	write func(path string, data []byte) error
}

// published says what became of a folder.
type published struct {
	written int
	kept    []string // files of others, left as they are
}

// folderError says why a folder was left as it was.
type folderError struct{ problems []string }

func (e *folderError) Error() string { return strings.Join(e.problems, "\n") }

// publish writes the folder. A new one is written beside its place and renamed. In one
// that is there already only files that this program wrote and nobody edited since are
// replaced; if one was edited, nothing is changed at all, since a report must not speak
// of a program that is not there. Files of others stay.
func (f folder) publish() (published, error) {
	if f.write == nil {
		f.write = writeNew
	}
	info, err := os.Lstat(f.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return f.create()
	case err != nil:
		return published{}, fmt.Errorf("the folder %s cannot be looked at: %w", f.path, err)
	case !info.IsDir():
		return published{}, &folderError{[]string{fmt.Sprintf("%s is there and is no folder; choose another with -o", f.path)}}
	}
	return f.replace()
}

// create writes a folder that is not there yet.
func (f folder) create() (published, error) {
	parent := filepath.Dir(f.path)
	made, err := makeParents(parent)
	if err != nil {
		return published{}, fmt.Errorf("the folder %s cannot be made: %w", parent, err)
	}
	undo := func() {
		for i := len(made) - 1; i >= 0; i-- {
			os.Remove(made[i]) // only while empty
		}
	}
	whole, err := f.stage(parent)
	if err != nil {
		undo()
		return published{}, err
	}
	if err := os.Rename(whole, f.path); err != nil {
		os.RemoveAll(whole)
		undo()
		return published{}, fmt.Errorf("the folder %s cannot be put in place: %w", f.path, err)
	}
	return published{written: len(f.files)}, nil
}

// makeParents makes the folders that are missing and returns those it made.
func makeParents(path string) ([]string, error) {
	var missing []string
	for at := path; ; at = filepath.Dir(at) {
		if _, err := os.Stat(at); err == nil || at == filepath.Dir(at) {
			break
		}
		missing = append([]string{at}, missing...)
	}
	for i, at := range missing {
		if err := os.Mkdir(at, 0o755); err != nil {
			for ; i > 0; i-- {
				os.Remove(missing[i-1])
			}
			return nil, err
		}
	}
	return missing, nil
}

// stage writes all files into a new folder beside the place they are to go.
func (f folder) stage(parent string) (string, error) {
	temporary, err := os.MkdirTemp(parent, ".fullerwright-")
	if err != nil {
		return "", fmt.Errorf("nothing can be written in %s: %w", parent, err)
	}
	for _, name := range f.names() {
		if err := f.write(filepath.Join(temporary, name), f.content(name)); err != nil {
			os.RemoveAll(temporary)
			return "", fmt.Errorf("%s cannot be written: %w", name, err)
		}
	}
	if err := os.Chmod(temporary, 0o755); err != nil {
		os.RemoveAll(temporary)
		return "", err
	}
	return temporary, nil
}

// names returns the names of all files, the manifest among them, in order.
func (f folder) names() []string {
	names := []string{manifestName}
	for name := range f.files {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}

func (f folder) content(name string) []byte {
	if name != manifestName {
		return f.files[name]
	}
	list := manifest{Program: "fullerwright"}
	for _, n := range f.names() {
		if n != manifestName {
			list.Files = append(list.Files, manifestFile{n, len(f.files[n]), digest(f.files[n])})
		}
	}
	data, err := json.MarshalIndent(list, "", "  ")
	if err != nil {
		panic("impossible: the manifest cannot be written: " + err.Error())
	}
	return append(data, '\n')
}

// replace brings a folder that is there up to date.
func (f folder) replace() (published, error) {
	entries, err := os.ReadDir(f.path)
	if err != nil {
		return published{}, fmt.Errorf("the folder %s cannot be read: %w", f.path, err)
	}
	before, err := readManifest(filepath.Join(f.path, manifestName))
	if err != nil {
		return published{}, err
	}
	kept, problems := f.compare(entries, before)
	if len(problems) > 0 {
		return published{}, &folderError{problems}
	}
	staged, err := f.stage(filepath.Dir(f.path))
	if err != nil {
		return published{}, err
	}
	defer os.RemoveAll(staged)
	if err := f.swap(staged, before); err != nil {
		return published{}, err
	}
	return published{written: len(f.files), kept: kept}, nil
}

// compare looks at what is in a folder: what belongs to others and is kept, and what
// stands in the way.
func (f folder) compare(entries []os.DirEntry, before map[string]manifestFile) (kept, problems []string) {
	for _, entry := range entries {
		name := entry.Name()
		old, ours := before[name]
		_, wanted := f.files[name]
		switch {
		case name == manifestName:
		case !ours && wanted:
			problems = append(problems, fmt.Sprintf("%s in %s was not made by this program; move it away, or choose another folder with -o", name, f.path))
		case !ours:
			kept = append(kept, name)
		default:
			data, err := os.ReadFile(filepath.Join(f.path, name))
			if err != nil || digest(data) != old.SHA256 {
				problems = append(problems, fmt.Sprintf("%s in %s was edited since it was made; move it away, or choose another folder with -o", name, f.path))
			}
		}
	}
	return kept, problems
}

// swap moves the old files out and the new ones in. If a step fails everything goes
// back to where it was.
func (f folder) swap(staged string, before map[string]manifestFile) error {
	out := filepath.Join(staged, "old")
	if err := os.Mkdir(out, 0o755); err != nil {
		return fmt.Errorf("nothing can be written beside %s: %w", f.path, err)
	}
	type step struct{ from, to string }
	var done []step
	move := func(from, to string) error {
		if err := os.Rename(from, to); err != nil {
			for i := len(done) - 1; i >= 0; i-- {
				os.Rename(done[i].to, done[i].from)
			}
			return fmt.Errorf("%s cannot be put in place; the folder is as it was: %w", filepath.Base(to), err)
		}
		done = append(done, step{from, to})
		return nil
	}
	old := []string{manifestName}
	for name := range before {
		old = append(old, name)
	}
	sort.Strings(old)
	for _, name := range old {
		if _, err := os.Lstat(filepath.Join(f.path, name)); err != nil {
			continue
		}
		if err := move(filepath.Join(f.path, name), filepath.Join(out, name)); err != nil {
			return err
		}
	}
	for _, name := range f.names() {
		if err := move(filepath.Join(staged, name), filepath.Join(f.path, name)); err != nil {
			return err
		}
	}
	return nil
}

// readManifest returns the files that a folder's manifest lists; none where there is
// no manifest.
func readManifest(path string) (map[string]manifestFile, error) {
	data, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("%s cannot be read: %w", path, err)
	}
	var list manifest
	if err := json.Unmarshal(data, &list); err != nil || list.Program != "fullerwright" {
		return nil, &folderError{[]string{fmt.Sprintf("%s is not a manifest of this program; choose another folder with -o", path)}}
	}
	files := map[string]manifestFile{}
	for _, file := range list.Files {
		if file.Name != filepath.Base(file.Name) {
			return nil, &folderError{[]string{fmt.Sprintf("%s names a file outside its folder; choose another folder with -o", path)}}
		}
		files[file.Name] = file
	}
	return files, nil
}

// writeNew writes a file that must not be there yet, all of it or nothing.
func writeNew(path string, data []byte) error {
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

// writeFileWhole writes one file whole: into a temporary one beside it, then in its
// place. A file that is there already is not overwritten.
func writeFileWhole(path string, data []byte) error {
	if _, err := os.Lstat(path); err == nil {
		return &folderError{[]string{fmt.Sprintf("%s is there already and is left as it is; choose another with -o", path)}}
	}
	temporary, err := os.CreateTemp(filepath.Dir(path), ".fullerwright-")
	if err != nil {
		return fmt.Errorf("nothing can be written beside %s: %w", path, err)
	}
	_, err = temporary.Write(data)
	err = errors.Join(err, temporary.Chmod(0o644), temporary.Sync(), temporary.Close())
	if err == nil {
		// A link fails where the name was taken meanwhile; a rename would overwrite.
		err = os.Link(temporary.Name(), path)
	}
	os.Remove(temporary.Name())
	if err != nil {
		return fmt.Errorf("%s cannot be written: %w", path, err)
	}
	return nil
}
