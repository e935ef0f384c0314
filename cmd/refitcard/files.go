package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime/debug"
	"runtime/metrics"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"

	"refitcard/compiler"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
)

// job is one procedure to work on: where it lies, and the library it belongs to.
type job struct {
	lib   *compiler.Library
	root  string // the library's folder on this machine
	path  string // slash-separated, from root
	shown string // as the user named it
	text  []byte // of standard input, else nil

	against *procedure.Procedure // the earlier version that it is held against, nil for none
}

// dir is the folder in which its outputs stand unless -o says otherwise.
func (j job) dir() string {
	if j.text != nil {
		return "."
	}
	return filepath.Dir(j.shown)
}

// libraries opens each library once.
type libraries struct {
	opened map[string]*compiler.Library
	files  func(root string) (fs.FS, error) // nil: rooted
	roots  map[string]string                // of a folder: that of its library
}

func newLibraries() *libraries {
	return &libraries{opened: map[string]*compiler.Library{}, roots: map[string]string{}}
}

// jobs turns the arguments into procedures, in the order of the arguments and of the names within a folder.
func (s *session) jobs() ([]job, error) {
	if len(s.args) == 0 {
		return nil, usageError{"no procedure was named", "give a FILE, a FOLDER, or - for standard input"}
	}
	libs := newLibraries()
	var all []job
	for i, arg := range s.args {
		if arg == "-" && slices.Contains(s.args[:i], "-") {
			return nil, usageError{"standard input can be read once only", "name - once"}
		}
		more, err := s.expand(libs, arg)
		if err != nil {
			return nil, err
		}
		all = append(all, more...)
	}
	return all, nil
}

func (s *session) expand(libs *libraries, arg string) ([]job, error) {
	if arg == "-" {
		raw, err := io.ReadAll(io.LimitReader(s.In, compiler.MaxFile+1))
		if err != nil {
			return nil, fmt.Errorf("standard input: %w", err)
		}
		j, err := s.locate(libs, s.opt.name)
		j.text = raw
		if raw == nil {
			j.text = []byte{}
		}
		return []job{j}, err
	}
	info, err := os.Stat(arg)
	if err != nil {
		return nil, missing(arg, err)
	}
	if !info.IsDir() && !info.Mode().IsRegular() {
		return nil, usageError{fmt.Sprintf("%q is neither a file nor a folder", arg), "- reads standard input"}
	}
	if !info.IsDir() {
		j, err := s.locate(libs, arg)
		return []job{j}, err
	}
	var found []job
	err = filepath.WalkDir(arg, func(name string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return fmt.Errorf("can't read %q: %w", name, rootCause(err))
		case e.IsDir() && name != arg && strings.HasPrefix(e.Name(), "."):
			return filepath.SkipDir
		case e.IsDir() || !strings.EqualFold(filepath.Ext(name), ".md") || !looksLikeProcedure(name):
			return nil
		}
		j, err := s.locate(libs, name)
		found = append(found, j)
		return err
	})
	if err == nil && len(found) == 0 {
		return nil, usageError{fmt.Sprintf("no procedure stands below %q", arg), "a procedure is a file NAME.md that begins with ---; refitcard new NAME.md makes one"}
	}
	return found, err
}

// looksLikeProcedure tells whether a file begins with front matter; other Markdown in a folder is nobody's procedure.
func looksLikeProcedure(name string) bool {
	if info, err := os.Stat(name); err == nil && !info.Mode().IsRegular() {
		return false // to open a pipe would wait for ever
	}
	f, err := os.Open(name)
	if err != nil {
		return true // the compile says what is wrong with it
	}
	defer f.Close()
	head := make([]byte, 8)
	n, _ := io.ReadFull(f, head)
	return strings.HasPrefix(strings.TrimPrefix(string(head[:n]), "\ufeff"), "---")
}

// readProcedure reads a file; of one beyond the limit, so much that it is seen to be.
func readProcedure(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, compiler.MaxFile+2))
}

// missing says that a file is not there, and offers the nearest name beside it.
func missing(name string, err error) error {
	if !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("can't read %q: %w", name, rootCause(err))
	}
	entries, _ := os.ReadDir(filepath.Dir(name))
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	do := ""
	if near := verb.Near(filepath.Base(name), names); near != "" {
		do = "did you mean " + filepath.Join(filepath.Dir(name), near)
	}
	return usageError{fmt.Sprintf("there is no file or folder %q", name), do}
}

// locate finds the library of a file: the nearest folder upwards with a settings file, else the file's own folder.
func (s *session) locate(libs *libraries, name string) (job, error) {
	abs, err := filepath.Abs(name)
	if err != nil {
		return job{}, err
	}
	root := filepath.Dir(abs)
	if s.opt.settings != "" {
		if root, err = settingsRoot(s.opt.settings, abs); err != nil {
			return job{}, err
		}
	} else {
		root = libs.rootOf(root)
	}
	lib, err := libs.open(root)
	if err != nil {
		return job{}, err
	}
	rel, err := filepath.Rel(root, abs)
	return job{lib: lib, root: root, path: filepath.ToSlash(rel), shown: filepath.ToSlash(name)}, err
}

// rootOf is the nearest folder upwards with a settings file, else the folder itself. Each folder is looked at once.
func (l *libraries) rootOf(folder string) string {
	if root, ok := l.roots[folder]; ok {
		return root
	}
	root := folder
	for dir := folder; ; dir = filepath.Dir(dir) {
		if info, err := os.Stat(filepath.Join(dir, "refitcard.yaml")); err == nil && !info.IsDir() {
			root = dir
			break
		}
		if filepath.Dir(dir) == dir {
			break
		}
	}
	l.roots[folder] = root
	return root
}

// settingsRoot gives the library's folder when the settings file is named on the command line.
func settingsRoot(settings, file string) (string, error) {
	abs, err := filepath.Abs(settings)
	if err != nil {
		return "", err
	}
	if info, err := os.Stat(abs); err != nil || info.IsDir() {
		return "", usageError{fmt.Sprintf("there is no settings file %q", settings), "--settings takes the path of a refitcard.yaml"}
	}
	root := filepath.Dir(abs)
	if filepath.Base(abs) != "refitcard.yaml" {
		return "", usageError{fmt.Sprintf("%q is not named refitcard.yaml", settings), "name it refitcard.yaml: its folder is the root of the library"}
	}
	if rel, err := filepath.Rel(root, file); err != nil || strings.HasPrefix(rel, "..") {
		return "", usageError{fmt.Sprintf("%q does not lie below the folder of %q", file, settings), "the settings file stands at the root of the library"}
	}
	return root, nil
}

func (l *libraries) open(root string) (*compiler.Library, error) {
	if lib, ok := l.opened[root]; ok {
		return lib, nil
	}
	files := l.files
	if files == nil {
		files = rooted
	}
	fsys, err := files(root)
	if err != nil {
		return nil, err
	}
	lib := compiler.Open(fsys, shownFrom(root))
	l.opened[root] = lib
	return lib, nil
}

// rooted gives the files below a folder. Includes and figures stay inside it, links and all.
func rooted(root string) (fs.FS, error) {
	r, err := os.OpenRoot(root)
	if err != nil {
		return nil, err
	}
	return r.FS(), nil
}

// shownFrom turns a path within a library into the name that people see: from the current folder, where it lies below that.
func shownFrom(root string) func(string) string {
	here, err := os.Getwd()
	if err != nil {
		here = root
	}
	return func(path string) string {
		full := filepath.Join(root, filepath.FromSlash(path))
		if rel, err := filepath.Rel(here, full); err == nil && !strings.HasPrefix(rel, "..") {
			return filepath.ToSlash(rel)
		}
		return filepath.ToSlash(full)
	}
}

// compiled is a job with what came of it. Err is for a file that can't be read.
type compiled struct {
	job
	compiler.Result
	err error
}

// many is from how many procedures on a bound is set to the memory in which the garbage collector may wait. Fewer take less than
// that, and end before it would first run.
const many = 8

// growth is how much memory may grow before garbage is collected, in percent of what is in use: over many files memory is cheap and
// collecting is not.
const growth = 400

// The memory, in bytes, up to which the garbage collector may wait over many procedures: it is left free for the sheets of a
// few, and grows with the findings of very many.
const (
	usualMemory = 48 << 20
	eachMemory  = 20 << 10
)

// The memory, in bytes, in which sheets are drawn beside what the library takes: some for all, and some for each that is drawn at the
// same time. A hundred cards, two at once, need 31 MiB with this, half of which is the program itself.
const (
	drawnMemory = 11 << 20
	sheetMemory = 3 << 20
)

// patience lets the garbage collector wait longer, over many procedures in so much memory and no more, unless the user has said how
// long and in how much: collecting takes a third of the time of one card. It gives what puts things back.
func (s *session) patience(jobs int) (restore func()) {
	percent, limit := -2, int64(-1)
	if _, set := s.Env("GOGC"); !set {
		percent = debug.SetGCPercent(growth)
	}
	if _, set := s.Env("GOMEMLIMIT"); !set && (jobs > many || s.opt.draws) {
		room := int64(usualMemory)
		if s.opt.draws {
			room = inUse() + drawnMemory + int64(s.opt.jobs)*sheetMemory
		}
		limit = debug.SetMemoryLimit(max(room, int64(jobs)*eachMemory))
	}
	return func() {
		if percent != -2 {
			debug.SetGCPercent(percent)
		}
		debug.SetMemoryLimit(limit) // a negative one changes nothing
	}
}

// inUse is the memory that lives now, and garbage beside it, in bytes.
func inUse() int64 {
	sample := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
	metrics.Read(sample)
	return int64(sample[0].Value.Uint64())
}

// compileAll compiles the jobs, several at once, and hands each result over in the order of the jobs.
func (s *session) compileAll(jobs []job, opt rules.Options, use func(compiled) error) error {
	return workAll(s, jobs, func(j job) compiled { return j.compile(opt) }, use)
}

// workAll does the work for each job, several at once, and hands each result over in the order of the jobs.
func workAll[T any](s *session, jobs []job, do func(job) T, use func(T) error) error {
	defer s.patience(len(jobs))()
	ctx, cancel := context.WithCancel(s.ctx)
	results := make([]chan T, len(jobs))
	for i := range results {
		results[i] = make(chan T, 1)
	}
	work := make(chan int)
	room := make(chan struct{}, s.opt.jobs+ahead) // what is compiled and not used yet fills memory
	var group sync.WaitGroup
	for range min(s.opt.jobs, max(len(jobs), 1)) {
		group.Go(func() {
			for i := range work {
				results[i] <- do(jobs[i])
			}
		})
	}
	go func() {
		defer close(work)
		for i := range jobs {
			select {
			case room <- struct{}{}:
			case <-ctx.Done():
				return
			}
			select {
			case work <- i:
			case <-ctx.Done():
				return
			}
		}
	}()
	defer group.Wait()
	defer cancel() // runs before the wait: what nobody will look at is not begun
	for i := range results {
		select {
		case r := <-results[i]:
			if err := use(r); err != nil {
				return err
			}
			results[i] = nil // and its buffer with it
			<-room
		case <-ctx.Done():
			return ctx.Err()
		}
	}
	return nil
}

// ahead is how many procedures may lie compiled until their turn comes, beside those that are being worked on.
const ahead = 2

// safely does some work. A mistake of the program itself ends as an error of this procedure: the others are made.
func safely(do func()) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("the program stumbled over this procedure (%v): please report it with the file", r)
		}
	}()
	do()
	return nil
}

// compile compiles one procedure.
func (j job) compile(opt rules.Options) (c compiled) {
	if err := safely(func() { c = j.compiled(opt) }); err != nil {
		return compiled{job: j, err: err}
	}
	return c
}

func (j job) compiled(opt rules.Options) compiled {
	opt.Against = j.against
	if j.text != nil {
		return compiled{job: j, Result: j.lib.CompileText(j.path, j.text, opt)}
	}
	if !utf8.ValidString(j.path) {
		return compiled{job: j, err: errors.New("its name is not UTF-8, so no paper could bear it: give it another name")}
	}
	r, err := j.lib.Compile(j.path, opt)
	return compiled{job: j, Result: r, err: err}
}
