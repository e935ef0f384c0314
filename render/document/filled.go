package document

// Filled is what was filled in on the card for a tablet, as its page saves it: one JSON object with all these keys, in UTF-8.
// What was typed stands there as it was typed; times are those of the tablet's clock, "2026-11-25 14:32".
type Filled struct {
	Schema   int             `json:"schema"` // FilledSchema
	Kind     string          `json:"kind"`   // FilledKind
	Card     FilledCard      `json:"card"`
	Saved    string          `json:"saved"` // when
	Boxes    []FilledBox     `json:"boxes"` // at the head of the record sheet
	Remarks  string          `json:"remarks"`
	Readings []FilledReading `json:"readings"`
	Holds    []FilledHold    `json:"holds"`
	Written  []FilledWords   `json:"written"` // on the other lines of the record sheet
	Ticks    []FilledTick    `json:"ticks"`
}

// FilledSchema is the number of the shape that Filled describes. It changes when a key changes its meaning, comes or goes.
const FilledSchema = 1

// FilledKind tells the file from other JSON.
const FilledKind = "filled record of a job card"

// FilledCard names the card that was filled in.
type FilledCard struct {
	Number   string `json:"number"`
	Revision string `json:"revision"`
	Variant  string `json:"variant"`
	Title    string `json:"title"`
	Machine  string `json:"machine"`
	Date     string `json:"date"`
	Digest   string `json:"digest"` // of the source: "4F7K-29QD"
}

// FilledBox is one box at the head of the record sheet.
type FilledBox struct {
	Label string `json:"label"`
	Typed string `json:"typed"`
}

// FilledReading is one reading. Limits and unit are the card's: "12–18", "mm".
type FilledReading struct {
	Line      int         `json:"line"` // of the record sheet; 0 for none
	Step      string      `json:"step"`
	Act       string      `json:"act"`
	Place     string      `json:"place"` // "" where there is one
	Limits    string      `json:"limits"`
	Unit      string      `json:"unit"`
	NotNeeded bool        `json:"not_needed"`
	Found     FilledValue `json:"found"`
	Left      FilledValue `json:"left"` // read again after the first reading was out of limits
}

// FilledValue is what was typed, its figure where it is one, and the verdict of the page.
type FilledValue struct {
	Typed   string   `json:"typed"`
	Value   *float64 `json:"value"`
	Verdict string   `json:"verdict"` // one of Verdicts
}

// The verdicts on a reading.
const (
	NoReading = "no reading"
	NotJudged = "not judged"
	Within    = "within limits"
	TooLow    = "too low"
	TooHigh   = "too high"
	NoFigure  = "not a figure"
)

// Verdicts lists them.
func Verdicts() []string { return []string{NoReading, NotJudged, Within, TooLow, TooHigh, NoFigure} }

// FilledHold is a hold that another person has come to. A name that is typed is no signature.
type FilledHold struct {
	Line int    `json:"line"`
	Step string `json:"step"`
	For  string `json:"for"`
	Name string `json:"name"`
	Time string `json:"time"`
}

// FilledWords is what was typed for a column of a line of the record sheet.
type FilledWords struct {
	Line   int    `json:"line"`
	Column string `json:"column"`
	Typed  string `json:"typed"`
}

// FilledTick is one box to tick.
type FilledTick struct {
	Line    int     `json:"line"` // of the record sheet, for a check; else 0
	Step    string  `json:"step"`
	Box     string  `json:"box"`
	Settled bool    `json:"settled"` // ticked, or not needed
	Ticked  *string `json:"ticked"`  // when; null for a box that is not
}
