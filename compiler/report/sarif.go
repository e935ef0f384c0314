package report

import (
	"encoding/json"
	"io"
	"net/url"
	"path"
	"regexp"
	"slices"
	"strings"

	"refitcard/compiler/diag"
	"refitcard/compiler/rules"
	"refitcard/compiler/source"
)

// sarifSchema is the address of the schema that the standard gives for its own files (SARIF 2.1.0, errata 01).
const sarifSchema = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"

// The part of SARIF 2.1.0 that findings need. Names and meaning are those of the standard.
type (
	sarifLog struct {
		Schema  string     `json:"$schema"`
		Version string     `json:"version"`
		Runs    []sarifRun `json:"runs"`
	}
	sarifRun struct {
		Tool             sarifTool         `json:"tool"`
		Invocations      []sarifInvocation `json:"invocations"`
		Artifacts        []sarifArtifact   `json:"artifacts"`
		Results          []sarifResult     `json:"results"`
		ColumnKind       string            `json:"columnKind"`
		DefaultEncoding  string            `json:"defaultEncoding"`
		Language         string            `json:"language"`
		NewlineSequences []string          `json:"newlineSequences"`
	}
	sarifTool struct {
		Driver sarifDriver `json:"driver"`
	}
	sarifDriver struct {
		Name    string      `json:"name"`
		Version string      `json:"version,omitempty"`
		Rules   []sarifRule `json:"rules"`
	}
	sarifRule struct {
		ID    string     `json:"id"`
		Short *sarifText `json:"shortDescription,omitempty"`
		Full  *sarifText `json:"fullDescription,omitempty"`
		Help  *sarifText `json:"help,omitempty"`
		Bag   sarifTags  `json:"properties"`
	}
	sarifTags struct {
		Tags []string `json:"tags"`
	}
	sarifText struct {
		Text     string `json:"text"`
		Markdown string `json:"markdown,omitempty"`
	}
	sarifInvocation struct {
		Successful bool `json:"executionSuccessful"`
	}
	sarifArtifact struct {
		Location sarifAddress `json:"location"`
		Roles    []string     `json:"roles,omitempty"`
		MimeType string       `json:"mimeType"`
	}
	sarifAddress struct {
		URI   string `json:"uri"`
		Base  string `json:"uriBaseId,omitempty"`
		Index *int   `json:"index,omitempty"`
	}
	sarifResult struct {
		Rule         string             `json:"ruleId"`
		RuleIndex    int                `json:"ruleIndex"`
		Level        string             `json:"level"`
		Message      sarifText          `json:"message"`
		Locations    []sarifLocation    `json:"locations,omitempty"`
		Related      []sarifLocation    `json:"relatedLocations,omitempty"`
		Fingerprints map[string]string  `json:"partialFingerprints"`
		Fixes        []sarifFix         `json:"fixes,omitempty"`
		Suppressions []sarifSuppression `json:"suppressions"` // on all results of a run, or on none (3.27.23)
		Bag          *sarifWhere        `json:"properties,omitempty"`
	}
	sarifWhere struct {
		Step     int      `json:"step,omitempty"`
		Variants []string `json:"variants,omitempty"`
	}
	sarifLocation struct {
		ID       int            `json:"id,omitempty"`
		Physical *sarifPhysical `json:"physicalLocation,omitempty"`
		Message  *sarifText     `json:"message,omitempty"`
	}
	sarifPhysical struct {
		Artifact sarifAddress `json:"artifactLocation"`
		Region   sarifRegion  `json:"region"`
	}
	sarifRegion struct {
		StartLine   int        `json:"startLine"`
		StartColumn int        `json:"startColumn"`
		EndLine     int        `json:"endLine"`
		EndColumn   int        `json:"endColumn"`
		Snippet     *sarifText `json:"snippet,omitempty"`
	}
	sarifFix struct {
		Description sarifText     `json:"description"`
		Changes     []sarifChange `json:"artifactChanges"`
		Bag         sarifSafe     `json:"properties"`
	}
	sarifSafe struct {
		Safe bool `json:"safe"`
	}
	sarifChange struct {
		Artifact     sarifAddress       `json:"artifactLocation"`
		Replacements []sarifReplacement `json:"replacements"`
	}
	sarifReplacement struct {
		Deleted  sarifRegion `json:"deletedRegion"`
		Inserted *sarifText  `json:"insertedContent,omitempty"`
	}
	sarifSuppression struct {
		Kind          string `json:"kind"`
		Justification string `json:"justification"`
	}
)

// SARIF writes results in the Static Analysis Results Interchange Format, version 2.1.0 (OASIS Standard with errata 01).
// Columns count code points; a waived finding is there, as one that is suppressed in the source. Each finding carries a
// fingerprint that stays when lines come and go above it. Addresses of files are relative: no folder of the machine is told.
func SARIF(w io.Writer, r Results) error {
	b := newSarif(r)
	run := sarifRun{
		Tool:             sarifTool{sarifDriver{Name: "refitcard", Version: r.Version, Rules: b.rules}},
		Invocations:      []sarifInvocation{{Successful: !slices.ContainsFunc(r.Findings, couldNotRead)}},
		Artifacts:        b.artifacts,
		Results:          []sarifResult{},
		ColumnKind:       "unicodeCodePoints",
		DefaultEncoding:  "utf-8",
		Language:         "en",
		NewlineSequences: []string{"\r\n", "\n", "\r"},
	}
	prints := fingerprints(r.Findings)
	for i, f := range r.Findings {
		result := b.result(f)
		result.Fingerprints = map[string]string{fingerprintName: prints[i]}
		run.Results = append(run.Results, result)
	}
	enc := json.NewEncoder(escaping{w})
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(sarifLog{sarifSchema, "2.1.0", []sarifRun{run}})
}

// couldNotRead tells whether a finding is that a file could not be opened: then the run did not do all that it was asked.
func couldNotRead(f diag.Finding) bool { return f.Rule == "file/unreadable" }

// sarif holds what the results of one run point to by number.
type sarif struct {
	rules     []sarifRule
	artifacts []sarifArtifact
	files     map[string]int // place among the artifacts, by name
}

func newSarif(r Results) *sarif {
	b := &sarif{rules: []sarifRule{}, artifacts: []sarifArtifact{}, files: map[string]int{}}
	paths := map[string]string{}
	note := func(at source.Span) {
		if at.Known() {
			paths[at.File.Name] = at.File.Path
		}
	}
	for _, name := range r.Looked {
		paths[name] = name
	}
	var names []string
	for _, f := range r.Findings {
		names = append(names, f.Rule)
		note(f.At)
		for _, rel := range f.Related {
			note(rel.At)
		}
		for _, fix := range f.Fixes {
			for _, e := range fix.Edits {
				note(e.At)
			}
		}
	}
	slices.Sort(names)
	for _, name := range slices.Compact(names) {
		b.rules = append(b.rules, sarifRuleOf(name, r.Texts))
	}
	for _, name := range sortedKeys(paths) {
		b.files[name] = len(b.artifacts)
		a := sarifArtifact{Location: addressOf(name, paths[name]), MimeType: "text/markdown"}
		if slices.Contains(r.Looked, name) {
			a.Roles = []string{"analysisTarget"}
		}
		b.artifacts = append(b.artifacts, a)
	}
	return b
}

func sortedKeys(m map[string]string) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// sarifRuleOf describes a rule by its text.
func sarifRuleOf(name string, texts func(string) (rules.Text, bool)) sarifRule {
	family, _, _ := strings.Cut(name, "/")
	rule := sarifRule{ID: name, Bag: sarifTags{[]string{family}}}
	if texts == nil {
		return rule
	}
	t, ok := texts(name)
	if !ok {
		return rule
	}
	rule.Short, rule.Full = &sarifText{Text: plainMessage(t.Title)}, &sarifText{Text: plainMessage(oneLine(t.What))}
	var text, markdown []string
	for _, p := range []struct{ head, body string }{{"What", t.What}, {"Why", t.Why}, {"Do", t.Do}, {"Source", t.SourceInWords()}} {
		text = append(text, plainMessage(p.head+": "+oneLine(p.body)))
		markdown = append(markdown, "**"+p.head+".** "+p.body)
	}
	more := "refitcard explain " + name
	rule.Help = &sarifText{
		Text:     strings.Join(append(text, "Examples: "+more), "\n"),
		Markdown: doubled(strings.Join(append(markdown, "**Examples.** `"+more+"`"), "\n\n")),
	}
	return rule
}

func (b *sarif) result(f diag.Finding) sarifResult {
	r := sarifResult{Rule: f.Rule, Level: sarifLevel(f.Severity), Message: sarifText{Text: plainMessage(said(f))}}
	r.RuleIndex = slices.IndexFunc(b.rules, func(x sarifRule) bool { return x.ID == f.Rule })
	if f.At.Known() {
		r.Locations = []sarifLocation{{Physical: b.physical(f.At)}}
	}
	for _, rel := range f.Related {
		if rel.At.Known() {
			words := sentence(relatedLabel(rel))
			r.Related = append(r.Related, sarifLocation{len(r.Related) + 1, b.physical(rel.At), &sarifText{Text: plainMessage(words)}})
		}
	}
	for _, fix := range f.Fixes {
		if x := b.fix(fix); len(x.Changes) > 0 {
			r.Fixes = append(r.Fixes, x)
		}
	}
	r.Suppressions = []sarifSuppression{}
	if f.Waived != "" {
		r.Suppressions = []sarifSuppression{{"inSource", f.Waived}}
	}
	if f.Step > 0 || len(f.Variants) > 0 {
		r.Bag = &sarifWhere{f.Step, f.Variants}
	}
	return r
}

func (b *sarif) fix(fix diag.Fix) sarifFix {
	x := sarifFix{Description: sarifText{Text: plainMessage(sentence(fix.Title))}, Bag: sarifSafe{fix.Safe}}
	for _, e := range fix.Edits {
		where := b.physical(e.At)
		change := slices.IndexFunc(x.Changes, func(c sarifChange) bool { return c.Artifact.URI == where.Artifact.URI })
		if change < 0 {
			change = len(x.Changes)
			x.Changes = append(x.Changes, sarifChange{Artifact: where.Artifact})
		}
		where.Region.Snippet = nil
		r := sarifReplacement{Deleted: where.Region}
		if e.Text != "" {
			r.Inserted = &sarifText{Text: e.Text}
		}
		x.Changes[change].Replacements = append(x.Changes[change].Replacements, r)
	}
	return x
}

func (b *sarif) physical(at source.Span) *sarifPhysical {
	p := place(at)
	address := addressOf(at.File.Name, at.File.Path)
	index := b.files[at.File.Name]
	address.Index = &index
	region := sarifRegion{StartLine: p.Line, StartColumn: p.Column, EndLine: p.EndLine, EndColumn: p.EndColumn}
	if at.End > at.Start {
		region.Snippet = &sarifText{Text: at.Text()}
	}
	return &sarifPhysical{address, region}
}

// driveName is how a name begins that starts at a drive of Windows.
var driveName = regexp.MustCompile(`^[A-Za-z]:/`)

// addressOf makes a relative URI of a file's name (RFC 3986, percent-encoded). A name that begins at the root of the machine
// would tell of the machine: such a file is named from the root of its library instead.
func addressOf(name, inLibrary string) sarifAddress {
	if path.IsAbs(name) || driveName.MatchString(name) {
		if inLibrary == name {
			inLibrary = path.Base(name)
		}
		return sarifAddress{URI: (&url.URL{Path: inLibrary}).String(), Base: "LIBRARY"}
	}
	return sarifAddress{URI: (&url.URL{Path: name}).String()}
}

func sarifLevel(s diag.Severity) string {
	switch s {
	case diag.Error:
		return "error"
	case diag.Warning:
		return "warning"
	}
	return "note"
}

// plainMessage writes words as a plain text message of SARIF: braces are doubled (3.11.5), and what would be read as a link
// (3.11.6) is parted.
func plainMessage(s string) string { return doubled(strings.ReplaceAll(clean(s), "](", "] (")) }

func doubled(s string) string { return strings.NewReplacer("{", "{{", "}", "}}").Replace(s) }
