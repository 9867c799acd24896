package main

import (
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// BenchmarkCheck is a check of the built-in knife from the start of the process to its
// end, without the proof. Beside it, for a ratio, the process that only prints its help.
func BenchmarkCheck(b *testing.B) {
	binary := filepath.Join(b.TempDir(), "fullerwright")
	out, err := exec.Command("go", "build", "-o", binary, ".").CombinedOutput()
	require.NoError(b, err, string(out))
	for _, command := range []string{"check", "help"} {
		b.Run(command, func(b *testing.B) {
			for b.Loop() {
				out, err := exec.Command(binary, command).CombinedOutput()
				require.NoError(b, err, string(out))
			}
		})
	}
}
