package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// manifestName is the file in a build folder that lists what the program wrote there.
const manifestName = "manifest.json"

// manifest lists the files of a folder as they were written, by name, in order. It has
// no date: the same files give the same manifest.
type manifest struct {
	Program string         `json:"program"`
	Command string         `json:"command"` // that made the folder: build, mill, ...
	Files   []manifestFile `json:"files"`
}

// manifestFile is one file as it was written: its size in bytes and the SHA-256
// (FIPS 180-4) of its content in hexadecimal.
type manifestFile struct {
	Name   string `json:"name"`
	Size   int    `json:"size"`
	SHA256 string `json:"sha256"`
}

// newManifest returns the manifest of files that a command of this program makes.
func newManifest(command string, files map[string][]byte) manifest {
	list := manifest{Program: "fullerwright", Command: command}
	for _, name := range sortedNames(files) {
		list.Files = append(list.Files, manifestFile{name, len(files[name]), digest(files[name])})
	}
	return list
}

func digest(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// bytes returns the manifest as it stands in its file.
func (m manifest) bytes() []byte {
	data, err := json.MarshalIndent(m, "", "  ")
	if err != nil {
		panic("impossible: the manifest cannot be written: " + err.Error())
	}
	return append(data, '\n')
}

func (m manifest) equal(other manifest) bool { return bytes.Equal(m.bytes(), other.bytes()) }

func (m manifest) byName() map[string]manifestFile {
	files := make(map[string]manifestFile, len(m.Files))
	for _, file := range m.Files {
		files[file.Name] = file
	}
	return files
}

// holds reports whether the file at path is still as it was written.
func (m manifestFile) holds(path string) bool {
	data, err := os.ReadFile(path)
	return err == nil && digest(data) == m.SHA256
}

// readManifest returns the manifest in a file, and whether there is one. A manifest of
// something else, or one that names a file outside its folder, is an error.
func readManifest(path string) (list manifest, found bool, err error) {
	data, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return manifest{}, false, nil
	}
	if err != nil {
		return manifest{}, false, fmt.Errorf("%s cannot be read: %w", path, err)
	}
	if err := json.Unmarshal(data, &list); err != nil || list.Program != "fullerwright" {
		return manifest{}, false, refuse("%s is not a manifest of this program; choose another folder with -o", path)
	}
	for _, file := range list.Files {
		if !plainName(file.Name) || file.Name == manifestName {
			return manifest{}, false, refuse("%s lists %q, which is no file that this program makes; choose another folder with -o", path, file.Name)
		}
	}
	return list, true, nil
}
