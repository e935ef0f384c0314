package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"unicode"

	"github.com/spf13/pflag"

	"refitcard/compiler/verb"
	"refitcard/templates"
)

func newTask() task {
	return task{
		name: "new", args: "NAME.md",
		purpose: "begin a procedure that checks clean, with its sections and the make-safe stage",
		example: `refitcard new end-cover.md

end-cover.md: write over what stands there, then: refitcard check end-cover.md
`,
		options: func(set *pflag.FlagSet, o *options) {
			set.StringVar(&o.from, "from", "strip-and-refit", "`KIND` of job: "+strings.Join(kinds(), ", "))
		},
		run: runNew,
	}
}

// kinds lists the skeletons that are built in.
func kinds() []string {
	entries, err := templates.New.ReadDir("new")
	if err != nil {
		return nil // the folder is built in: it can't be missing
	}
	var names []string
	for _, e := range entries {
		names = append(names, strings.TrimSuffix(e.Name(), ".md"))
	}
	return names
}

func runNew(s *session) (int, error) {
	if len(s.args) != 1 {
		return 0, usageError{"give the name of one new file", "refitcard new NAME.md"}
	}
	name := s.args[0]
	if name == "" || name == "-" {
		return 0, usageError{"a new procedure needs a name", "refitcard new NAME.md"}
	}
	if filepath.Ext(name) == "" {
		name += ".md"
	}
	text, err := templates.New.ReadFile("new/" + s.opt.from + ".md")
	if err != nil {
		do := "--from " + strings.Join(kinds(), ", --from ")
		if near := verb.Near(s.opt.from, kinds()); near != "" {
			do = "--from " + near
		}
		return 0, usageError{fmt.Sprintf("there is no kind of job %q", s.opt.from), do}
	}
	title, number := titleAndNumber(name)
	filled := strings.NewReplacer("@TITLE@", title, "@NUMBER@", number).Replace(string(text))
	if err := s.writeNew(name, []byte(filled)); err != nil {
		return 0, err
	}
	s.say("%s: write over what stands there, then: refitcard check %s\n", name, typed(name))
	return done, nil
}

// titleAndNumber makes "Rake chain" and "RAKE-CHAIN" out of rake-chain.md.
func titleAndNumber(name string) (title, number string) {
	base := strings.TrimSuffix(filepath.Base(name), filepath.Ext(name))
	words := strings.FieldsFunc(base, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	if len(words) == 0 {
		return "New procedure", "NEW"
	}
	title = strings.Join(words, " ")
	first := []rune(title)
	first[0] = unicode.ToUpper(first[0])
	number = words[0]
	for _, w := range words[1:] {
		if len(number)+1+len(w) > longestNumber {
			break
		}
		number += "-" + w
	}
	if len(number) > longestNumber {
		number = "NEW"
	}
	return string(first), strings.ToUpper(number)
}

// longestNumber is the most bytes that the number of a procedure may have; the resolver holds to it.
const longestNumber = 30

// typed gives a file's name as it is typed at a command line: between quotation marks where a blank would cut it.
func typed(name string) string {
	if strings.ContainsAny(name, " \t&;()'") {
		return `"` + name + `"`
	}
	if strings.HasPrefix(name, "-") {
		return "-- " + name // else it would be taken for an option
	}
	return name
}
