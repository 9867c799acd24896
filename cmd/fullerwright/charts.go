package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fullerwright/export/sheet"
)

// mustBeNew refuses files that are there already, and two of one name. An empty name is
// none.
func mustBeNew(paths ...string) error {
	for i, path := range paths {
		switch {
		case path == "":
		case !isFolder(filepath.Dir(path)):
			return &usageError{fmt.Sprintf("the folder of %s is not there", path), "make it first, or choose another file"}
		case exists(path):
			return &usageError{fmt.Sprintf("%s is there already and is left as it is", path), "choose another file"}
		case slices.Contains(paths[:i], path):
			return &usageError{fmt.Sprintf("%s cannot be written twice", path), "choose another file for one of them"}
		}
	}
	return nil
}

// isFolder reports whether there is a folder of that name.
func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

// chartFormat refuses a name of a drawing that says no format.
func chartFormat(path string) error {
	switch strings.ToLower(filepath.Ext(path)) {
	case ".svg", ".png":
		return nil
	}
	if path == "" {
		return nil
	}
	return &usageError{fmt.Sprintf("%s says no format of a drawing", path), "end its name in .svg or .png"}
}

// drawn renders a drawing in the format that the name says.
func drawn(path string, s sheet.Sheet) ([]byte, error) {
	if strings.EqualFold(filepath.Ext(path), ".png") {
		return sheet.PNG(s, pictureDPI)
	}
	return sheet.SVG(s)
}

// writeDrawing writes a drawing in the format that the name says.
func (p *program) writeDrawing(path string, s sheet.Sheet) error {
	data, err := drawn(path, s)
	if err != nil {
		return err
	}
	if err := writeFileWhole(path, data); err != nil {
		return err
	}
	p.tell("%s drawn\n", filepath.ToSlash(path))
	return nil
}

// drawnIn puts a drawing, as SVG and PNG named as the command is, in a folder of its own,
// and says so where it is told.
func (p *program) drawnIn(out, command string, drawing sheet.Sheet, told io.Writer) error {
	svg, err := sheet.SVG(drawing)
	if err != nil {
		return err
	}
	png, err := sheet.PNG(drawing, pictureDPI)
	if err != nil {
		return err
	}
	done, err := folder{path: filepath.Clean(out), command: command, files: map[string][]byte{command + ".svg": svg, command + ".png": png}}.publish()
	if err != nil {
		return err
	}
	fmt.Fprintf(told, "drawn in %s\n", filepath.ToSlash(out))
	p.sayRest(done)
	return nil
}
