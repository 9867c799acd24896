// Command fullerwright takes one knife file and makes what a maker of guarded
// fixed-blade knives needs from it: proved programs for the fullers of both faces, a
// true-size grinding template, and the checks on all of it.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"strings"

	"github.com/spf13/pflag"

	"fullerwright/profile"
	"fullerwright/profile/document"
	"fullerwright/toolpath"
)

// The exit codes.
const (
	exitDone  = 0 // done
	exitStop  = 1 // a check stops the work, or a proof failed
	exitInput = 2 // bad input or usage
)

func main() {
	collectSeldom()
	ctx, cancel := signal.NotifyContext(context.Background(), os.Interrupt)
	defer cancel()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// collectSeldom lets the heap grow to five times what is in use before it is collected, where
// GOGC does not say otherwise: a run is short and needs little, and looking at many designs
// makes and drops much (measured: a third less time for aim, twice the memory of build,
// 0.2 GB).
func collectSeldom() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(400)
	}
}

// program is one run of the command: where it writes and what may interrupt it.
type program struct {
	ctx            context.Context
	stdout, stderr io.Writer
	progress       *progress
	unit           document.Unit // in which it speaks
}

// command is one of the things the program does.
type command struct {
	name, arguments, summary, example string
	// flags declares the command's own flags and returns what runs it.
	flags func(p *program, set *pflag.FlagSet) func(arguments []string) error
}

// commands returns all commands in the order in which help lists them.
func commands() []command {
	return []command{
		buildCommand(), checkCommand(), measureCommand(), scrapCommand(), millCommand(), templateCommand(), planCommand(), proveCommand(), readCommand(),
		newCommand(), resizeCommand(), matchCommand(), aimCommand(), rangeCommand(), compareCommand(), patternsCommand(), steelsCommand(),
	}
}

// failedError is an outcome that was told already: the run ends with exitStop.
type failedError struct{ reason string }

func (e *failedError) Error() string { return e.reason }

// usageError is a command line that cannot be understood.
type usageError struct{ problem, hint string }

func (e *usageError) Error() string { return e.problem }

// run does what the arguments say and returns the exit code.
func run(ctx context.Context, arguments []string, stdout, stderr io.Writer) int {
	p := &program{ctx: ctx, stdout: stdout, stderr: stderr, progress: progressOn(stderr)}
	return p.run(arguments)
}

func (p *program) run(arguments []string) int {
	err := p.dispatch(arguments)
	if err == nil {
		return exitDone
	}
	var failed *failedError
	if errors.As(err, &failed) {
		p.tell("fullerwright: %s\n", document.Words(failed.reason))
		return exitStop
	}
	for _, line := range strings.Split(err.Error(), "\n") {
		p.tell("fullerwright: error: %s\n", document.Words(line))
	}
	var usage *usageError
	if errors.As(err, &usage) && usage.hint != "" {
		p.tell("fullerwright: hint: %s\n", document.Words(usage.hint))
	}
	if stopsWork(err) {
		return exitStop
	}
	return exitInput
}

func (p *program) dispatch(arguments []string) error {
	if len(arguments) == 0 {
		return &usageError{"no command", "try: fullerwright build, or fullerwright --help"}
	}
	switch arguments[0] {
	case "-h", "--help", "help":
		return p.help(arguments[1:])
	case "--version":
		fmt.Fprintln(p.stdout, "fullerwright", version())
		return nil
	}
	c, found := commandNamed(arguments[0])
	if !found {
		return &usageError{fmt.Sprintf("no command %q", arguments[0]), "the commands are " + commandNames()}
	}
	return p.runCommand(c, arguments[1:])
}

func (p *program) runCommand(c command, arguments []string) error {
	set := pflag.NewFlagSet(c.name, pflag.ContinueOnError)
	set.SetOutput(io.Discard)
	set.SortFlags = false
	do := c.flags(p, set)
	help := set.BoolP("help", "h", false, "what this command does")
	if err := set.Parse(arguments); err != nil {
		if errors.Is(err, pflag.ErrHelp) {
			p.helpFor(c, set)
			return nil
		}
		return &usageError{err.Error(), "try: fullerwright " + c.name + " --help"}
	}
	if *help {
		p.helpFor(c, set)
		return nil
	}
	if err := emptyFlags(set); err != nil {
		return err
	}
	return do(set.Args())
}

// emptyMeans marks flags to which an empty value is a value.
const emptyMeans = "empty"

// mayBeEmpty marks a flag of the set to which an empty value is a value.
func mayBeEmpty(set *pflag.FlagSet, name string) {
	if err := set.SetAnnotation(name, emptyMeans, []string{"none"}); err != nil {
		panic("impossible: " + err.Error())
	}
}

// emptyFlags refuses flags that were given nothing, as by a variable of the shell that is not
// set: a run without the shop file that was meant would be for another mill. A flag that
// needs no value, as --quiet, is never empty.
func emptyFlags(set *pflag.FlagSet) error {
	var empty []string
	set.Visit(func(f *pflag.Flag) {
		if f.NoOptDefVal == "" && f.Annotations[emptyMeans] == nil && strings.TrimSpace(strings.Trim(f.Value.String(), "[]")) == "" {
			empty = append(empty, "--"+f.Name)
		}
	})
	if len(empty) == 0 {
		return nil
	}
	return &usageError{"nothing was given for " + strings.Join(empty, ", "), "give a value, or leave the flag out"}
}

func commandNamed(name string) (command, bool) {
	for _, c := range commands() {
		if c.name == name {
			return c, true
		}
	}
	return command{}, false
}

func commandNames() string {
	var names []string
	for _, c := range commands() {
		names = append(names, c.name)
	}
	return strings.Join(names, ", ")
}

func (p *program) help(arguments []string) error {
	if len(arguments) > 0 {
		switch arguments[0] {
		case "keys":
			_, err := p.stdout.Write(profile.DescribeTable())
			return err
		case "measured":
			_, err := p.stdout.Write(document.Describe(profile.MeasuredSchema(), func(string, string) string { return "" }))
			return err
		case "shop":
			_, err := p.stdout.Write(document.Describe(toolpath.ShopSchema(), func(string, string) string { return "" }))
			return err
		case "dialects":
			helpDialects(p.stdout)
			return nil
		}
		c, found := commandNamed(arguments[0])
		if !found {
			return &usageError{fmt.Sprintf("no command %q", arguments[0]), "the commands are " + commandNames()}
		}
		return p.runCommand(c, []string{"--help"})
	}
	fmt.Fprint(p.stdout, `Fullerwright takes one knife file and makes the programs that mill the knife, each
proved on a simulated bar, a true-size grinding template, a plan and setup sheets.

Where a command takes a KNIFE and none is named, it takes the built-in pattern.

`)
	for _, c := range commands() {
		fmt.Fprintf(p.stdout, "  %-10s %s\n", c.name, c.summary)
	}
	fmt.Fprint(p.stdout, `
fullerwright COMMAND --help tells more of each; fullerwright help keys, help shop and
help measured list all that those files may hold, help dialects how programs can be
spelled. Exit codes: 0 done, 1 a check stops the work or a proof failed, 2 bad input.
Read CAUTIONS.md before you cut steel.
`)
	return nil
}

func (p *program) helpFor(c command, set *pflag.FlagSet) {
	fmt.Fprintf(p.stdout, "fullerwright %s %s\n\n%s.\n\nExample:\n  %s\n\nFlags:\n%s", c.name, c.arguments, upperFirst(c.summary), c.example, set.FlagUsages())
}

func upperFirst(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// version returns the version that the program was built from.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "(unknown version)"
	}
	return info.Main.Version
}
