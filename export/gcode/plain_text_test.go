package gcode

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestPlainText: no letter of a name goes silently.
func TestPlainText(t *testing.T) {
	for text, want := range map[string]string{
		"Müller's Bär": "MULLER S BAR", "Straße": "STRASSE", "Søren Æbelø": "SOREN AEBELO", "Łódź": "LODZ",
		"Нож 7": "--- 7", "½ in": "1 2 IN", "plain name, 3.5 mm": "PLAIN NAME, 3.5 MM", "a(b);c\nd": "A B C D", "": "",
	} {
		assert.Equal(t, want, plainText(text), text)
	}
}
