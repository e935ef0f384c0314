package report

import (
	"crypto/sha256"
	"encoding/hex"
	"regexp"
	"strconv"
	"strings"

	"refitcard/compiler/diag"
)

// fingerprintName carries a number: another way to work it out gets another.
const fingerprintName = "refitcardFinding/v1"

// listNumber is what a step begins with. Numbers in the source mean nothing, and a step put in above may change them.
var listNumber = regexp.MustCompile(`^\d+[.)] `)

// fingerprints gives each finding a mark by which a later run knows it again, 32 hexadecimal digits. It is taken from the rule,
// the words that are marked, the line they stand in with its spaces made one and its list number cut, and the how-manieth
// it is of those that are equal in all this in its file: no number of a line is in it, so what comes and goes above does not
// change it.
func fingerprints(found []diag.Finding) []string {
	seen := map[string]int{}
	all := make([]string, len(found))
	for i, f := range found {
		name, mark, line := "", f.Message, ""
		if f.At.Known() {
			name = f.At.File.Name
			mark = oneLine(f.At.Text())
			line = oneLine(f.At.File.LineSpan(f.At.File.Line(f.At.Start)).Text())
			line = listNumber.ReplaceAllString(line, "")
		}
		key := strings.Join([]string{f.Rule, mark, line}, "\x00")
		seen[name+"\x00"+key]++
		sum := sha256.Sum256([]byte(key + "\x00" + strconv.Itoa(seen[name+"\x00"+key])))
		all[i] = hex.EncodeToString(sum[:16])
	}
	return all
}
