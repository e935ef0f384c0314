// Package compiler joins the stages: it loads the files that belong together, hands each stage's value to the next,
// and holds no logic of its own.
package compiler

import (
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"refitcard/compiler/assembly"
	"refitcard/compiler/diag"
	"refitcard/compiler/library"
	"refitcard/compiler/procedure"
	"refitcard/compiler/resolve"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// The limits on what is taken in, said with the finding file/too-large.
const (
	MaxFile     = 1 << 20 // bytes
	MaxIncludes = 64      // files in one procedure
	MaxDepth    = 64      // includes within includes
	MaxFaults   = 1000    // places that can't be understood, in one procedure
)

// Library is one library of procedures, opened once and used for any number of compiles, from any number of goroutines.
type Library struct {
	fsys     fs.FS
	shown    func(string) string
	settings *library.Settings
	register func() *library.Register
	families []rules.Family
	pictures *pictures
	memory   *resolve.Memory
}

// Open opens the library whose root is fsys. shown turns a path within it into the name that people see.
func Open(fsys fs.FS, shown func(string) string) *Library {
	l := &Library{fsys: fsys, shown: shown, families: Families(), settings: library.Load(fsys), pictures: newPictures(), memory: &resolve.Memory{}}
	l.settings.Show(shown)
	l.settings.Faults = append(l.settings.Faults, l.severities()...)
	// Only checks across a library need the register, and without settings a file is a library of its own.
	l.register = sync.OnceValue(func() *library.Register {
		if l.settings.File == nil {
			return nil
		}
		return library.ReadRegister(fsys)
	})
	return l
}

// severities finds settings for checks that nobody knows, and those that settings can't lower.
func (l *Library) severities() []source.Fault {
	known := map[string]rules.Rule{}
	var names []string
	for _, f := range l.families {
		for _, r := range f.Rules {
			known[r.Name] = r
			names = append(names, r.Name)
		}
	}
	var all []source.Fault
	for name, level := range l.settings.Severities {
		at := l.settings.SevereAt[name]
		r, ok := known[name]
		s, _ := diag.Named(level)
		switch {
		case !ok:
			all = append(all, source.Fault{Name: "file/unknown-key", At: at, Words: []string{name, verb.Near(name, names)}})
		case s < r.Severity && (r.Severity == diag.Error || r.Pinned):
			all = append(all, source.Fault{Name: "file/bad-value", At: at, Words: []string{name, level, r.Severity.String() + ": settings can't lower this check"}})
		}
	}
	slices.SortFunc(all, func(a, b source.Fault) int { return a.At.Start - b.At.Start })
	return all
}

// Over gives the library with the same settings over other files, such as those that someone is writing, and another register.
// register is asked at every compile and may give nil; files may be read from several goroutines.
func (l *Library) Over(fsys fs.FS, register func() *library.Register) *Library {
	return &Library{fsys: fsys, shown: l.shown, settings: l.settings, register: register, families: l.families, pictures: l.pictures, memory: l.memory}
}

// Register gives what the procedures of the library say of themselves; nil for a library without settings.
func (l *Library) Register() *library.Register { return l.register() }

// Settings gives what the library's settings file says.
func (l *Library) Settings() *library.Settings { return l.settings }

// Result is what one compile gives. Proc is never nil; with errors among the findings no sheet may be made from it.
type Result struct {
	Proc     *procedure.Procedure
	Plays    []assembly.Play
	Findings []diag.Finding // sorted; those of included files among them
	Settings *library.Settings
}

// Failed tells whether an error stands that was not waived.
func (r Result) Failed() bool {
	return slices.ContainsFunc(r.Findings, func(f diag.Finding) bool {
		return f.Severity == diag.Error && f.Waived == ""
	})
}

// Compile compiles the file at path, slash-separated from the root. The error is for a file that can't be read.
func (l *Library) Compile(path string, opt rules.Options) (Result, error) {
	raw, err := library.ReadFile(l.fsys, path, MaxFile+1)
	if err != nil {
		return Result{}, err
	}
	return l.CompileText(path, raw, opt), nil
}

// CompileText compiles text that stands, or would stand, at path.
func (l *Library) CompileText(path string, raw []byte, opt rules.Options) Result {
	return l.read(path, raw).judge(l, opt)
}

// judge plays the procedure and runs the checks.
func (k *kept) judge(l *Library, opt rules.Options) Result {
	proc, file := k.work.Procedure(), k.main.File
	all := slices.Concat(l.settings.Faults, k.load.faults, k.work.Faults(), k.load.figures(proc))
	for _, t := range k.trees {
		all = append(all, t.Faults...)
	}
	all = fewest(file, all)
	plays := assembly.PlayAll(proc, l.settings.Verbs, all, false)
	for _, p := range plays {
		all = append(all, p.Faults...)
	}
	all = fewest(file, all)
	job := &rules.Job{
		Proc: proc, Trees: k.trees, Faults: all, Plays: plays, Verbs: l.settings.Verbs,
		Settings: l.settings, Register: l.register(), Against: opt.Against,
	}
	if k.job != nil {
		job.Follow(k.job)
	}
	k.job = job
	return Result{proc, plays, rules.Judge(job, l.families, opt), l.settings}
}

// fewest cuts a list of faults that nobody would read to its end: what is held against each of them would take its time.
func fewest(f *source.File, all []source.Fault) []source.Fault {
	if len(all) <= MaxFaults {
		return all
	}
	return append(all[:MaxFaults:MaxFaults], source.Fault{Name: "file/too-large", At: f.At(0, 0), Words: []string{"places that can't be understood"}, Counts: []int{len(all), MaxFaults}})
}

// inside gives the path that name means from the file at from, or how it leaves the library.
func inside(from, name string) (clean, how string) {
	name = strings.ReplaceAll(name, "\\", "/")
	if strings.HasPrefix(name, "/") || len(name) > 1 && name[1] == ':' {
		return "", "absolute"
	}
	clean = path.Join(path.Dir(from), name)
	if clean == ".." || strings.HasPrefix(clean, "../") {
		return "", ".."
	}
	return clean, ""
}
