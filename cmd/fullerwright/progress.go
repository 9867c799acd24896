package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"sync"

	"github.com/spf13/pflag"
	"golang.org/x/term"
)

// progress is a bar on a terminal that tells how far long work is. It is drawn while a
// step of the work runs and wiped away after it, so that it never stands among results.
// The zero value shows nothing. Steps may report from several goroutines.
type progress struct {
	mutex       sync.Mutex
	out         io.Writer  // nil to show nothing
	columns     func() int // of the terminal
	steps, done int        // expected, and finished
	label       string     // of the step at hand, "" between steps
	most        float64    // shown of the step at hand
	drawn       string
}

// progressOn returns the progress bar for where messages go: one that shows itself
// where that is a terminal, else one that does not.
func progressOn(messages io.Writer) *progress {
	file, isFile := messages.(*os.File)
	if !isFile || !term.IsTerminal(int(file.Fd())) {
		return &progress{}
	}
	columns := func() int {
		width, _, err := term.GetSize(int(file.Fd()))
		if err != nil || width <= 0 {
			const usual = 80
			return usual
		}
		return width
	}
	return &progress{out: file, columns: columns}
}

// declareQuiet declares the flag that keeps the bar away.
func (p *program) declareQuiet(set *pflag.FlagSet) {
	set.BoolFuncP("quiet", "q", "show no progress on the terminal", func(string) error {
		p.progress = &progress{}
		return nil
	})
}

// expect says how many steps the work will have.
func (b *progress) expect(steps int) {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	b.steps, b.done = steps, 0
}

// expectAll corrects how many steps the work has, those done included.
func (b *progress) expectAll(steps int) {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	b.steps = steps
}

// begin draws the bar for the next step.
func (b *progress) begin(label string) {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	b.label, b.most = label, 0
	b.draw()
}

// part says how much of the step at hand is done. Reports that come late are left out.
func (b *progress) part(done, all int) {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	if part := float64(done) / float64(max(1, all)); b.label != "" && part > b.most {
		b.most = part
		b.draw()
	}
}

// end wipes the bar away; the step at hand counts as done.
func (b *progress) end() {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	b.done++
	b.label = ""
	b.show("")
}

// draw shows the bar. It leaves the last column
// free, since some terminals go on to the next line there.
func (b *progress) draw() {
	const longest = 24
	if b.out == nil {
		return
	}
	share := min(1, (float64(b.done)+b.most)/float64(max(1, b.steps)))
	full := int(share * longest)
	text := fmt.Sprintf("%3.0f %% |%s%s| %s", 100*share, strings.Repeat("=", full), strings.Repeat(" ", longest-full), b.label)
	b.show(text[:min(len(text), max(0, b.columns()-1))])
}

// show puts a text in the place of what was drawn before.
func (b *progress) show(text string) {
	if b.out == nil || text == b.drawn {
		return
	}
	fmt.Fprintf(b.out, "\r%s%s\r", text, strings.Repeat(" ", max(0, len(b.drawn)-len(text))))
	b.drawn = text
}

// step does one step of long work and shows that it is at it. An interrupt ends the
// wait for it at once; what the step has made by then is never used. A step must
// therefore write no file and print nothing.
func (p *program) step(label string, do func() error) error {
	if p.ctx.Err() != nil {
		return interrupted()
	}
	p.progress.begin(label)
	defer p.progress.end()
	finished := make(chan error, 1)
	go func() { finished <- do() }()
	select {
	case err := <-finished:
		return err
	case <-p.ctx.Done():
		return interrupted()
	}
}

func interrupted() error { return &failedError{"interrupted; nothing was written"} }
