package main

import (
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	collectSeldom()
	testscript.Main(m, map[string]func(){"fullerwright": main})
}

// TestScripts runs the command as a maker would. Each script says why above its blocks.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
	})
}
