package main

import (
	"fmt"
	"runtime"
	"strings"

	"github.com/spf13/pflag"

	"refitcard/compiler/diag"
	"refitcard/compiler/verb"
)

// options are what the command line says. An option has one meanings everywhere.
type options struct {
	draws bool // not an option: the verb makes a sheet of each procedure

	out      string
	format   string
	paper    string
	distance float64
	sheets   int
	variant  string
	units    string
	settings string
	colour   string
	quiet    bool
	jobs     int
	name     string
	failOn   string
	only     []string
	skip     []string
	sides    int
	punch    string
	ink      string
	from     string
	deps     string
	on       string // the day of the work, for calibration
	first    int    // place of a sheet of labels already begun
	stock    string // measures of a sheet of labels
	dryRun   bool

	formats   []string // what --format may be for this verb
	threshold diag.Severity

	filled  string // what was filled in on a tablet
	against string // the earlier version, a file or a folder
	port    int    // that watch listens on
}

// papers lists the papers by name, as --paper takes them.
var papers = []string{"a4", "a4-landscape", "a5", "a5-landscape", "a6", "a6-landscape", "letter", "letter-landscape", "half-letter", "half-letter-landscape"}

func (o *options) common(set *pflag.FlagSet) {
	set.StringVar(&o.settings, "settings", "", "settings `FILE` (else refitcard.yaml, found upwards from the procedure)")
	set.StringVar(&o.name, "name", "standard-input.md", "`NAME` for messages when - (standard input) is read")
	set.StringVar(&o.colour, "color", "auto", "colour on the screen: auto, always or never")
	set.BoolVar(&o.quiet, "quiet", false, "findings only: no counts, no progress")
	set.IntVar(&o.jobs, "jobs", runtime.GOMAXPROCS(0), "how many procedures at once")
}

func (o *options) output(set *pflag.FlagSet, what string) {
	set.StringVarP(&o.out, "out", "o", "", what)
}

func (o *options) page(set *pflag.FlagSet) {
	set.StringVar(&o.paper, "paper", "", strings.Join(papers[:8], ", ")+", … (else what the procedure or the settings say, else a4)")
	set.StringVar(&o.units, "units", "", "which unit prints first: metric or us")
	set.StringVar(&o.variant, "variant", "", "one `VARIANT` only")
}

func (o *options) formatOf(set *pflag.FlagSet, first string, more ...string) {
	o.formats = append([]string{first}, more...)
	set.StringVar(&o.format, "format", first, strings.Join(o.formats, ", "))
}

// settle checks the values that only a few words are allowed for.
func (o *options) settle() error {
	for _, c := range []struct {
		option string
		value  *string
		words  []string
	}{
		{"format", &o.format, o.formats},
		{"paper", &o.paper, papers},
		{"units", &o.units, []string{"metric", "us"}},
		{"color", &o.colour, []string{"auto", "always", "never"}},
		{"fail-on", &o.failOn, []string{"error", "warning", "advice"}},
		{"punch", &o.punch, []string{"left", "top"}},
		{"ink", &o.ink, []string{"black", "colour"}},
	} {
		if err := oneOf(c.option, *c.value, c.words); err != nil {
			return err
		}
	}
	if o.failOn != "" {
		o.threshold, _ = diag.Named(o.failOn)
	}
	if o.distance != 0 && (o.distance < 200 || o.distance > 3000) {
		return usageError{fmt.Sprintf("--distance %g: a card is read from 200 to 3000 mm", o.distance), "--distance 600"}
	}
	if o.jobs < 1 {
		return usageError{fmt.Sprintf("--jobs %d: at least one", o.jobs), "--jobs 1"}
	}
	if o.sheets < 0 {
		return usageError{fmt.Sprintf("--sheets %d: at least one", o.sheets), "--sheets 1"}
	}
	return nil
}

func oneOf(option, value string, words []string) error {
	if value == "" || len(words) == 0 {
		return nil
	}
	for _, w := range words {
		if w == value {
			return nil
		}
	}
	do := "--" + option + " " + strings.Join(words, ", ")
	if near := verb.Near(value, words); near != "" {
		do = "--" + option + " " + near
	}
	return usageError{fmt.Sprintf("--%s can't be %q", option, value), do}
}
