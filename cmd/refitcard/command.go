package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"syscall"

	"github.com/spf13/pflag"

	"refitcard/compiler/source"
	"refitcard/compiler/verb"
)

// Command is one run of the program with its own streams and environment.
type Command struct {
	In    io.Reader
	Out   io.Writer
	Err   io.Writer
	Env   func(string) (string, bool)
	Width func(any) int // columns of the terminal that a stream is, 0 for none
}

// The exit codes.
const (
	done     = 0 // done, nothing at or above the threshold
	found    = 1 // findings at or above it, and nothing printed that must not be
	unusable = 2 // it could not do what was asked
)

// A task is one verb of the command line.
type task struct {
	name    string
	args    string // what stands behind the verb, for the help
	purpose string // a line for the list of verbs
	example string // one worked example with what it prints
	options func(*pflag.FlagSet, *options)
	run     func(*session) (int, error)
}

// tasks lists the verbs in the order in which a job meets them.
func tasks() []task {
	return []task{
		newTask(), draftTask(), checkTask(), mendTask(), refitTask(), tidyTask(), cardTask(), recordTask(), pickTask(), labelsTask(), reviewTask(), compareTask(),
		pressTask(), watchTask(), editorTask(), explainTask(), lookupTask(), sourceTask(), completionTask(),
	}
}

// session is one call of a verb: its streams, options and arguments.
type session struct {
	Command
	ctx  context.Context
	opt  *options
	args []string

	swept map[string]bool // folders that were looked over for what a killed run left
}

// usageError is a mistake in the words of the command line.
type usageError struct{ message, do string }

func (e usageError) Error() string { return e.message }

// Run does what the arguments ask and returns the exit code.
func (c Command) Run(ctx context.Context, args []string) (code int) {
	defer func() {
		if r := recover(); r != nil {
			c.say("refitcard: the program stumbled (%v): please report what you did\n", r)
			code = unusable
		}
	}()
	code, err := c.dispatch(ctx, args)
	if err == nil {
		return code
	}
	if errors.Is(err, syscall.EPIPE) {
		return done // the reader has seen enough
	}
	var usage usageError
	switch {
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(c.Err, "refitcard: stopped, nothing half-written was left behind")
	case errors.As(err, &usage):
		c.say("refitcard: %s\n", usage.message)
		if usage.do != "" {
			c.say("  do  %s\n", usage.do)
		}
	default:
		c.say("refitcard: %v\n", err)
	}
	return unusable
}

// say tells people something on standard error. What names and messages hold can't steer the terminal, nor begin a line.
func (c Command) say(format string, args ...any) {
	for i, a := range args {
		switch a := a.(type) {
		case string:
			args[i] = source.Plain(a)
		case error:
			args[i] = source.Plain(a.Error())
		}
	}
	fmt.Fprintf(c.Err, format, args...)
}

func (c Command) dispatch(ctx context.Context, args []string) (int, error) {
	if len(args) == 0 || isOne(args[0], "--help", "-h", "help") {
		if len(args) > 1 && args[0] == "help" {
			return c.dispatch(ctx, []string{args[1], "--help"})
		}
		_, err := io.WriteString(c.Out, overview())
		return done, err
	}
	if args[0] == "--version" {
		_, err := io.WriteString(c.Out, versionText())
		return done, err
	}
	if args[0] == completeVerb {
		return c.complete(args[1:])
	}
	var names []string
	for _, t := range tasks() {
		if t.name == args[0] {
			return c.runTask(ctx, t, args[1:])
		}
		names = append(names, t.name)
	}
	if strings.HasPrefix(args[0], "-") {
		return 0, usageError{fmt.Sprintf("the verb comes first, and %q is none", args[0]), "refitcard VERB " + args[0] + " …; refitcard alone lists the verbs"}
	}
	do := "refitcard alone lists the verbs"
	if near := verb.Near(args[0], names); near != "" {
		do = "refitcard " + strings.Join(append([]string{near}, args[1:]...), " ")
	}
	return 0, usageError{fmt.Sprintf("%q is not a verb of refitcard", args[0]), do}
}

func isOne(s string, words ...string) bool {
	for _, w := range words {
		if s == w {
			return true
		}
	}
	return false
}

func (c Command) runTask(ctx context.Context, t task, args []string) (int, error) {
	opt := &options{jobs: 1}
	set := pflag.NewFlagSet(t.name, pflag.ContinueOnError)
	set.SetOutput(io.Discard)
	set.Usage = func() {}
	set.SortFlags = false
	t.options(set, opt)
	err := set.Parse(args)
	if errors.Is(err, pflag.ErrHelp) {
		_, err := io.WriteString(c.Out, help(t, set))
		return done, err
	}
	if err != nil {
		return 0, flagError(t, set, err)
	}
	if err := opt.settle(); err != nil {
		return 0, err
	}
	return t.run(&session{Command: c, ctx: ctx, opt: opt, args: set.Args(), swept: map[string]bool{}})
}

// flagError puts a complaint of the option parser into our words and offers the nearest option.
func flagError(t task, set *pflag.FlagSet, err error) error {
	var unknown *pflag.NotExistError
	if !errors.As(err, &unknown) {
		return usageError{lowerFirst(err.Error()), "refitcard " + t.name + " --help"}
	}
	var names []string
	set.VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	typed := unknown.GetSpecifiedName()
	if unknown.GetSpecifiedShortnames() != "" {
		typed = unknown.GetSpecifiedShortnames()
	}
	do := "refitcard " + t.name + " --help"
	if near := verb.Near(typed, names); near != "" {
		do = "--" + near
	}
	return usageError{fmt.Sprintf("%q is not an option of %q", typed, t.name), do}
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
