package export

import (
	"os"
	"runtime/debug"
	"testing"
)

// TestMain lets the heap grow as the command does: the tests make and drop much.
func TestMain(m *testing.M) {
	debug.SetGCPercent(400)
	os.Exit(m.Run())
}
