package main

import (
	"fmt"

	"fullerwright/export"
)

// setupFiles returns the setup sheet of the proved programs by name of its files: on the
// shop's paper, and as a page for a browser; none where there are no programs.
func setupFiles(w *work) (map[string][]byte, error) {
	files := map[string][]byte{}
	if len(w.faces) == 0 {
		return files, nil
	}
	s := setupSheet(w)
	for suffix, size := range paperSizes(w.shop.Paper.Size) {
		paper, known := export.PaperNamed(size)
		if !known {
			return nil, fmt.Errorf("there is no paper %q", size)
		}
		pdf, err := export.SetupPDF(s, paper)
		if err != nil {
			return nil, err
		}
		files["setup"+suffix+".pdf"] = pdf
	}
	page, err := export.SetupHTML(s)
	if err != nil {
		return nil, err
	}
	files["setup.html"] = page
	return files, nil
}

func setupSheet(w *work) export.SetupSheet {
	s := export.SetupSheet{Blade: w.blade, Shop: w.shop, KnifeFile: w.sources[0], Digest: w.digest}
	for _, f := range w.faces {
		s.Steps = append(s.Steps, export.SetupStep{Job: f.job, Part: f.part, Whole: f.whole, TakenUp: len(f.before) > 0, Program: f.sayPrograms(), Proof: f.proof, Levels: f.levelLines()})
	}
	return s
}

// levelLines returns where the levels of a step begin in the text of its files.
func (f faceWork) levelLines() []export.SetupLevel {
	var out []export.SetupLevel
	for i, program := range f.programs {
		for _, l := range program.levels {
			level := export.SetupLevel{LevelMark: l.LevelMark, Line: l.Line, Block: l.Block}
			if len(f.programs) > 1 {
				level.File = i + 1
			}
			out = append(out, level)
		}
	}
	return out
}

// paperSizes returns the sizes of paper to print on, by what is added to a file's name.
func paperSizes(size string) map[string]string {
	if size == "both" {
		return map[string]string{"": "A4", "-letter": "Letter"}
	}
	return map[string]string{"": size}
}
