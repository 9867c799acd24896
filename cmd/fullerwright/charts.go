package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"fullerwright/export/sheet"
)

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

// writeDrawing writes a drawing in the format that the name says.
func (p *program) writeDrawing(path string, s sheet.Sheet) error {
	data, err := sheet.SVG(s)
	if strings.EqualFold(filepath.Ext(path), ".png") {
		data, err = sheet.PNG(s, pictureDPI)
	}
	if err != nil {
		return err
	}
	if err := writeFileWhole(path, data); err != nil {
		return err
	}
	fmt.Fprintf(p.stderr, "%s drawn\n", filepath.ToSlash(path))
	return nil
}
