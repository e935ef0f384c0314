package main

import "testing"

var lying [][]byte // so that what is made lies on the heap

func TestAPauseCollectsWhatLiesAbout(t *testing.T) {
	pause := collecting()
	for range 40 {
		lying = append(lying, make([]byte, 1<<20))
	}
	full := inUse()
	lying = nil
	pause()
	if now := inUse(); now > full-30<<20 {
		t.Errorf("%d bytes lie about after a pause, %d before", now, full)
	}
	for range 4 { // less than is worth a collection
		lying = append(lying, make([]byte, 1<<20))
	}
	few := inUse()
	lying = nil
	pause()
	if now := inUse(); now < few {
		t.Errorf("%d bytes lie about after a pause, %d before: it collected too early", now, few)
	}
}
