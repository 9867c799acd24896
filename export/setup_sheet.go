package export

import (
	"fmt"

	"fullerwright/export/sheet"
	"fullerwright/profile"
	"fullerwright/toolpath"
)

// SetupSheet is what the setup sheet of a knife is made from: its programs in the order
// of work, each as planned and as proved.
type SetupSheet struct {
	Blade     profile.Blade
	Shop      toolpath.Shop
	KnifeFile string // its name, as the maker wrote it
	Digest    string // of the parameters
	Steps     []SetupStep
}

// SetupStep is one program.
type SetupStep struct {
	Job     *toolpath.Job
	Part    *toolpath.Part // of the whole job; nil for all of it
	Whole   *toolpath.Job  // what it is a part of
	TakenUp bool           // after work that was broken off
	Program string         // its file
	Proof   toolpath.FaceProof
	Levels  []SetupLevel // where its levels begin in its text
}

// SetupLevel is where a level begins in the text of a program.
type SetupLevel struct {
	toolpath.LevelMark
	File  int // counted from 1; 0 where the program is one file
	Line  int
	Block int // its number; 0 where blocks have none
}

// unfinished reports whether more is to be cut by a later part.
func (s SetupStep) unfinished() bool { return s.Part != nil && !s.Part.Finish }

// SetupPages returns the setup sheet on paper of one size, upright: one page or more a
// clamping, in the order of work; programs for which nothing is moved follow each other on
// the same pages. Letters are at least 3.5 mm high.
func SetupPages(s SetupSheet, paper Paper) ([]sheet.Sheet, error) {
	ruler, err := sheet.NewRuler()
	if err != nil {
		return nil, err
	}
	var pages []sheet.Sheet
	for from := frontPage; from < len(s.Steps); {
		blocks := s.content(from, paper.Width-2*setupMargin, ruler)
		next := from + 1
		for ; s.goesOn(next); next++ {
			blocks = append(append(blocks, stepHead{next}), s.content(next, paper.Width-2*setupMargin, ruler)...)
		}
		pages = append(pages, flowed(s, from, paper, ruler, blocks).finished()...)
		from = next
	}
	for i := range pages {
		pageNumber(&pages[i], i+1, len(pages))
	}
	return pages, nil
}

// SetupPDF returns the setup sheet as one document.
func SetupPDF(s SetupSheet, paper Paper) ([]byte, error) {
	pages, err := SetupPages(s, paper)
	if err != nil {
		return nil, err
	}
	return sheet.PDF(sheet.Document{Title: "Setup sheet: " + s.Blade.Knife.Name, Subject: s.about(), Author: s.Blade.Knife.Maker}, pages)
}

func (s SetupSheet) about() string {
	return fmt.Sprintf("Setup sheet for %s, knife file %s, parameters %s.", plural(len(s.Steps), "program", "programs"), s.KnifeFile, s.Digest)
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// title names a step at the head of its pages.
func (s SetupSheet) title(step int) string {
	if step == frontPage {
		return s.Blade.Knife.Name + ": all programs"
	}
	title := fmt.Sprintf("%s: %s", s.Blade.Knife.Name, units{s.Shop.Inch}.sentence(sayStep(s.Steps[step].Job.Step)))
	if s.touchUp(step) {
		title += ", touch-up"
	}
	if part := s.Steps[step].Part; part != nil {
		title += ", " + part.String()
	}
	return title
}

// place says which of the programs a page is of.
func (s SetupSheet) place(step int) string {
	if step == frontPage {
		return "read this first"
	}
	return fmt.Sprintf("program %d of %d", step+1, len(s.Steps))
}

// touchUp reports whether a step goes over fullers that are milled already.
func (s SetupSheet) touchUp(step int) bool {
	j := s.Steps[step].Job
	return j.Step.Operation == toolpath.Fullers && s.Blade.FullersMilled(j.Step.Face)
}

// names are the two lines at the foot of every page by which paper and program are
// matched.
func (s SetupSheet) names(step int) (file, program string) {
	if step == frontPage {
		return "Knife file: " + s.KnifeFile, fmt.Sprintf("%s, parameters %s", plural(len(s.Steps), "program", "programs"), s.Digest)
	}
	return "Knife file: " + s.KnifeFile, fmt.Sprintf("%s, parameters %s", s.Steps[step].Program, s.Digest)
}

// before returns the last step before one for which something holds; ok is false for none.
func (s SetupSheet) before(step int, holds func(SetupStep) bool) (at int, ok bool) {
	for i := step - 1; i >= 0; i-- {
		if holds(s.Steps[i]) {
			return i, true
		}
	}
	return 0, false
}

// goesOn reports whether a step is run in the clamping of the one before it, with another
// cutter.
func (s SetupSheet) goesOn(step int) bool {
	if step < 1 || step >= len(s.Steps) {
		return false
	}
	last, j := s.Steps[step-1].Job, s.Steps[step].Job
	if last.Step.Operation != j.Step.Operation || last.Step.Face != j.Step.Face {
		return false
	}
	return j.Step.Corner > 0 || j.Step.Operation == toolpath.Slot && last.Step.Bore > 0
}

// firstOfFace returns the place of the first part of the same work on the same face.
func (s SetupSheet) firstOfFace(step int) int {
	for i, other := range s.Steps[:step] {
		if other.Part != nil && other.Job.Step == s.Steps[step].Job.Step {
			return i
		}
	}
	return step
}

// A setupBlock is a part of a sheet that is set on pages and into a page of the browser from
// one description.
type setupBlock interface{ block() }

type (
	heading    struct{ text string }
	stepHead   struct{ step int } // a program that follows another on its page
	paragraph  struct{ text string }
	facts      struct{ rows [][2]string } // what, and what it is
	blanks     struct{ labels []string }  // with room to write a value
	tickList   struct{ items []string }   // with a box before each
	bulletList struct{ items []string }
	figureBox  struct {
		height float64 // mm
		about  string
		draw   func(*sheet.Sheet, sheet.Box)
	}
	grid struct {
		head   []string
		shares []float64 // of the width, a column each
		texts  int       // how many columns hold words; the others are numbers, to the right
		tick   bool      // a box before each row
		rows   [][]string
	}
)

func (heading) block()    {}
func (stepHead) block()   {}
func (paragraph) block()  {}
func (facts) block()      {}
func (blanks) block()     {}
func (tickList) block()   {}
func (bulletList) block() {}
func (figureBox) block()  {}
func (grid) block()       {}
