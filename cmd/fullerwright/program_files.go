package main

import (
	"fmt"

	"fullerwright/export/gcode"
	"fullerwright/toolpath"
	"fullerwright/toolpath/proof"
)

// programFile is one program of a step: its file, its text, where its levels begin in it, and
// what its proof found.
type programFile struct {
	name     string
	text     []byte
	levels   []gcode.LevelLine
	findings []proof.Finding
}

// programBase is what the files of a job's programs begin with.
func programBase(j *toolpath.Job) string {
	if j.Named != "" {
		return j.Named
	}
	return j.Step.String()
}

// programName is the file of a job's program where it is one.
func programName(j *toolpath.Job) string { return programBase(j) + ".nc" }

// fileName is the file of one of a job's programs, so named that they sort in the order in
// which they are run.
func fileName(j *toolpath.Job, file, files int) string {
	if files == 1 {
		return programName(j)
	}
	digits := len(fmt.Sprint(files))
	return fmt.Sprintf("%s-%0*d-of-%d.nc", programBase(j), digits, file, files)
}

// firstProgram names the first file of a step.
func (f faceWork) firstProgram() string {
	if len(f.programs) == 0 {
		return programName(f.job)
	}
	return f.programs[0].name
}

// severalPrograms names the files of a step that has several.
func (f faceWork) severalPrograms() []string {
	if len(f.programs) < 2 {
		return nil
	}
	var names []string
	for _, program := range f.programs {
		names = append(names, program.name)
	}
	return names
}

// sayPrograms names the files of a step.
func (f faceWork) sayPrograms() string {
	return sayFiles(f.job, len(f.programs))
}

// sayFiles says the files of a job's programs.
func sayFiles(j *toolpath.Job, files int) string {
	if files > 1 {
		return fmt.Sprintf("%s to %d-of-%d", fileName(j, 1, files), files, files)
	}
	return programName(j)
}

// addPrograms adds the programs of a step to files by name.
func (f faceWork) addPrograms(files map[string][]byte) {
	for _, program := range f.programs {
		files[program.name] = program.text
	}
}
