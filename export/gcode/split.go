package gcode

import (
	"fmt"

	"fullerwright/toolpath"
	"fullerwright/toolpath/dialect"
	"fullerwright/toolpath/motion"
)

// Text is what stands in programs beside their moves.
type Text struct {
	Inch    bool
	Heading []string
	Number  int // of the first program, where the dialect numbers programs
}

// mostFiles bounds the files of one job: their number has three digits.
const mostFiles = 999

// mostProgramNumber is the greatest program number of four digits.
const mostProgramNumber = 9999

// WriteFiles returns the text of a checked job in a dialect as one program, or as several
// where the dialect limits a file and one program would be too long. Each of several is
// complete: it has the heading, says which file of how many it is, starts the spindle,
// states its feeds, begins over the bar and ends there. Where one is broken off in a cut the
// next goes back to that place straight down through what is cleared. They must be run in
// order.
func WriteFiles(checked toolpath.CheckedJob, d dialect.Dialect, text Text) ([][]byte, error) {
	written, err := WriteMarked(checked, d, text)
	if err != nil {
		return nil, err
	}
	files := make([][]byte, len(written))
	for i, f := range written {
		files[i] = f.Text
	}
	return files, nil
}

// File is a program with the lines at which its levels begin.
type File struct {
	Text   []byte
	Levels []LevelLine
}

// WriteMarked is WriteFiles with the lines at which the levels begin.
func WriteMarked(checked toolpath.CheckedJob, d dialect.Dialect, text Text) ([]File, error) {
	job := checked.Job()
	if job == nil {
		return nil, errUnchecked
	}
	s := splitter{job: job, dialect: d, text: text, moves: spell(job, d)}
	ends, err := s.ends()
	if err != nil {
		return nil, err
	}
	var files []File
	first := 0
	for i, end := range ends {
		w := writer{dialect: d, inch: text.Inch, name: text.Number + i, later: i > 0}
		if d.ProgramNumber > 0 && w.name > mostProgramNumber {
			return nil, fmt.Errorf("the program number %d has more than four digits: a program_number of %d or less would do", w.name, max(1, d.ProgramNumber-w.name+mostProgramNumber))
		}
		data, err := w.program(job, s.heading(i+1, len(ends)), s.piece(first, end))
		if err != nil {
			return nil, err
		}
		files = append(files, File{data, w.levels})
		first = end
	}
	return files, nil
}

// splitter finds where the moves of a job are parted into files.
type splitter struct {
	job     *toolpath.Job
	dialect dialect.Dialect
	text    Text
	moves   []spelled
}

// heading returns the heading of one file.
func (s *splitter) heading(file, files int) []string {
	if files == 1 {
		return s.text.Heading
	}
	out := append(append([]string(nil), s.text.Heading...), fmt.Sprintf("File %d of %d", file, files))
	switch {
	case file == 2:
		out = append(out, "Run file 1 first")
	case file > 2:
		out = append(out, fmt.Sprintf("Run files 1 to %d first", file-1))
	}
	return out
}

// piece returns the moves from one to before another, with the safe ways to the first and
// from the last.
func (s *splitter) piece(first, end int) []spelled {
	var out []spelled
	add := func(moves []toolpath.Move) {
		for _, m := range moves {
			out = append(out, spelled{Move: m})
		}
	}
	if first > 0 {
		add(s.job.Resume(s.moves[first-1].To, s.moves[first].Move))
	}
	out = append(out, s.moves[first:end]...)
	if end < len(s.moves) {
		add(s.job.Leave(s.moves[end-1].To))
	}
	return out
}

// fits reports whether a piece fits a file, with the longest heading.
func (s *splitter) fits(first, end int) (ok bool, lines, bytes int) {
	w := writer{dialect: s.dialect, inch: s.text.Inch, name: mostProgramNumber, later: first > 0}
	files := mostFiles
	if first == 0 && end == len(s.moves) {
		files = 1
	}
	// A fault of spelling comes again where the file is written.
	_, _ = w.program(s.job, s.heading(files, files), s.piece(first, end))
	lines, bytes = w.lines, w.out.Len()
	d := s.dialect
	return (d.FileBlocksMost == 0 || lines <= d.FileBlocksMost) && (d.FileBytesMost == 0 || bytes <= d.FileBytesMost), lines, bytes
}

// ends returns before which move each file ends.
func (s *splitter) ends() ([]int, error) {
	all := len(s.moves)
	if !s.dialect.Split() {
		return []int{all}, nil
	}
	if ok, _, _ := s.fits(0, all); ok {
		return []int{all}, nil
	}
	var out []int
	for first := 0; first < all; {
		end, err := s.longest(first)
		if err != nil {
			return nil, err
		}
		first = s.best(first, end)
		if out = append(out, first); len(out) > mostFiles {
			return nil, fmt.Errorf("%s takes more than %d files of the dialect %s: allow longer ones", s.job.Step, mostFiles, s.dialect.Name)
		}
	}
	return out, nil
}

// shortestLine is how many bytes a move takes at least, roughly; it bounds only how far a
// longest piece is looked for.
const shortestLine = 5

// longest returns before which move the longest piece ends that fits a file.
func (s *splitter) longest(first int) (int, error) {
	reach := len(s.moves) - first
	if s.dialect.FileBlocksMost > 0 {
		reach = min(reach, 2*s.dialect.FileBlocksMost)
	}
	if s.dialect.FileBytesMost > 0 {
		reach = min(reach, s.dialect.FileBytesMost/shortestLine)
	}
	ok, lines, bytes := s.fits(first, first+1)
	if !ok {
		return 0, fmt.Errorf("a file of the dialect %s has no room for %s: its heading, start, end and one move take %d lines and %d bytes; twice that would do for file_blocks_most and file_bytes_most",
			s.dialect.Name, s.job.Step, lines, bytes)
	}
	low, high := 1, reach+1 // low fits, high does not or is out of reach
	for high-low > 1 {
		middle := (low + high) / 2
		if fits, _, _ := s.fits(first, first+middle); fits {
			low = middle
		} else {
			high = middle
		}
	}
	return first + low, nil
}

// best returns the best place to break off in the latter half of a piece: over the bar,
// else between levels, else in roughing, where a way down beside the wall leaves no mark.
func (s *splitter) best(first, end int) int {
	if end == len(s.moves) {
		return end
	}
	at, rank := end, s.rank(end)
	for i := end - 1; i > (first+end)/2 && rank > 0; i-- {
		if r := s.rank(i); r < rank {
			at, rank = i, r
		}
	}
	return at
}

// rank says how well a program is broken off before a move, 0 best.
func (s *splitter) rank(i int) int {
	last, next := s.moves[i-1], s.moves[i]
	rough := func(m spelled) bool {
		return m.Purpose == toolpath.Rough || m.Purpose == toolpath.RampIn || m.Purpose == toolpath.StepOver
	}
	switch {
	case last.To.Z >= s.job.Clearance, next.Purpose == toolpath.Retract && next.Kind == motion.Rapid:
		return 0
	case last.Level != next.Level:
		return 1
	case rough(last) && rough(next):
		return 2
	}
	return 3
}
