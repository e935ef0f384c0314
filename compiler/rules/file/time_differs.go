package file

import (
	"fmt"
	"math/big"

	"refitcard/compiler/diag"
	"refitcard/compiler/procedure"
	"refitcard/compiler/rules"
	"refitcard/compiler/verb"
)

var timeDiffers = rules.Rule{
	Name:     "file/time-differs",
	Severity: diag.Advice,
	Check: func(j *rules.Job) []diag.Finding {
		if j.Proc.Time == nil {
			return nil
		}
		low, high := j.Proc.Time.SI()
		if low == nil || high == nil {
			return nil
		}
		var named *clock
		for _, play := range j.Plays {
			c := newClock(j.Proc, play.Variant)
			if !c.known || c.least.sum().Sign() == 0 || c.meets(low, high) {
				return nil // a step has no time, or it holds for one variant at least
			}
			named = c
		}
		if named == nil {
			return nil
		}
		return []diag.Finding{{
			At:      j.Proc.TimeAt,
			Message: fmt.Sprintf("the job is said to take %s, and its steps add up to %s", j.Proc.Time.Running(), named.words()),
			Do:      "write " + rules.Quote("time: "+minutes(named.least.sum())) + ", or correct the times of the steps",
		}}
	},
}

// clock adds up the time of a job in seconds: hands-on times and waits one after the other. A wait that was started runs while
// other steps go on. Conditions and repeats make the most more than the least.
type clock struct {
	variant     string
	known       bool // every acting step has its time
	endless     bool // a step is repeated until something holds
	least, most seconds
	ends        map[string]*big.Rat // waits that run: when the least time is so far, they are over
}

// seconds add up times: whole ones in a machine word, as nearly all are, the others exactly.
type seconds struct {
	whole  int64
	others *big.Rat
}

// add adds a time that is taken so many times.
func (s *seconds) add(t *big.Rat, times int64) {
	const long = 1 << 32 // a few hundred thousand such times fit
	if n := t.Num(); t.IsInt() && n.IsInt64() && -long < n.Int64() && n.Int64() < long && times < 1<<12 {
		s.whole += n.Int64() * times
		return
	}
	if s.others == nil {
		s.others = new(big.Rat)
	}
	s.others.Add(s.others, new(big.Rat).Mul(t, big.NewRat(times, 1)))
}

func (s seconds) sum() *big.Rat {
	sum := new(big.Rat).SetInt64(s.whole)
	if s.others != nil {
		sum.Add(sum, s.others)
	}
	return sum
}

func newClock(p *procedure.Procedure, variant string) *clock {
	c := &clock{variant: variant, known: true}
	for _, stage := range p.Stages {
		for _, s := range stage.Steps {
			c.step(s, false)
		}
	}
	return c
}

// step adds a step. timed tells that its parent's time holds for it too.
func (c *clock) step(s *procedure.Step, timed bool) {
	if !c.known || !in(s.For, c.variant) {
		return
	}
	may := s.If.Set() || s.Otherwise.Known()
	times := int64(max(s.Repeat.Times, 1))
	c.endless = c.endless || s.Repeat.Until != ""
	add := func(t *big.Rat) {
		if t == nil {
			return
		}
		if !may {
			c.least.add(t, 1)
		}
		c.most.add(t, times)
	}
	acts := false
	if s.Takes != nil {
		add(s.Takes.Middle())
	}
	for _, a := range s.Acts {
		if a.Verb == nil || a.Broken {
			continue
		}
		switch a.Verb.Effect {
		case verb.Wait:
			if a.Amount != nil {
				add(a.Amount.Middle())
			}
			continue
		case verb.Start, verb.Await:
			c.wait(a)
			continue
		}
		acts = acts || a.Verb.Ticks
	}
	timed = timed || s.Takes != nil
	if acts && !timed {
		c.known = false
	}
	for _, sub := range s.Steps {
		c.step(sub, timed)
	}
}

// wait starts a wait, or waits for one that was started.
func (c *clock) wait(a *procedure.Act) {
	if len(a.Objects) == 0 {
		return
	}
	name := a.Objects[0].Name
	if a.Verb.Effect == verb.Start {
		if a.Amount != nil {
			if c.ends == nil {
				c.ends = map[string]*big.Rat{}
			}
			end := c.least.sum()
			c.ends[name] = end.Add(end, a.Amount.Middle())
		}
		return
	}
	if end, ok := c.ends[name]; ok {
		if gap := new(big.Rat).Sub(end, c.least.sum()); gap.Sign() > 0 {
			c.least.add(gap, 1)
			c.most.add(gap, 1)
		}
	}
}

func in(list []procedure.Text, variant string) bool {
	if len(list) == 0 || variant == "" {
		return true
	}
	for _, t := range list {
		if t.Value == variant {
			return true
		}
	}
	return false
}

// meets tells whether an estimate lies within a quarter of what the steps add up to.
func (c *clock) meets(low, high *big.Rat) bool {
	least, most := c.least.sum(), c.most.sum()
	if high.Cmp(least.Mul(least, big.NewRat(3, 4))) < 0 {
		return false
	}
	return c.endless || low.Cmp(most.Mul(most, big.NewRat(5, 4))) <= 0
}

func (c *clock) words() string {
	switch {
	case c.endless:
		return minutes(c.least.sum()) + " at least"
	case c.least.sum().Cmp(c.most.sum()) == 0:
		return minutes(c.least.sum())
	}
	return minutes(c.least.sum()) + " to " + minutes(c.most.sum())
}

// minutes prints seconds as whole minutes, from two hours up as hours with one decimal.
func minutes(seconds *big.Rat) string {
	if hours := big.NewRat(3600, 1); seconds.Cmp(big.NewRat(7200, 1)) >= 0 {
		return new(big.Rat).Quo(seconds, hours).FloatString(1) + " h"
	}
	return new(big.Rat).Quo(seconds, big.NewRat(60, 1)).FloatString(0) + " min"
}
