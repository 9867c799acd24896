// Package templates holds the starter patterns and the built-in shop: data only, as
// files that a maker could have written.
package templates

import (
	"embed"
	"io/fs"
	"strings"
)

//go:embed patterns/*.toml shop.toml
var files embed.FS

// Default is the pattern that every command takes when no knife file is named.
const Default = "tarn"

// Names returns the names of the patterns in alphabetical order.
func Names() []string {
	entries, err := fs.ReadDir(files, "patterns")
	if err != nil {
		panic("impossible: the embedded patterns cannot be listed: " + err.Error())
	}
	names := make([]string, len(entries))
	for i, entry := range entries {
		names[i] = strings.TrimSuffix(entry.Name(), ".toml")
	}
	return names
}

// Pattern returns the knife file of a pattern, and whether there is one of that name.
func Pattern(name string) ([]byte, bool) {
	data, err := files.ReadFile("patterns/" + name + ".toml")
	return data, err == nil
}

// Summary returns the first line of a pattern's file, which says what it is.
func Summary(name string) string {
	data, _ := Pattern(name)
	first, _, _ := strings.Cut(string(data), "\n")
	return strings.TrimSpace(strings.TrimPrefix(first, "#"))
}

// Shop returns the shop file of the built-in shop.
func Shop() []byte {
	data, err := files.ReadFile("shop.toml")
	if err != nil {
		panic("impossible: the embedded shop cannot be read: " + err.Error())
	}
	return data
}
