package sheet

import "refitcard/render/document"

// words makes running text; words between stars are bold.
func words(parts ...string) []document.Run {
	var runs []document.Run
	for _, p := range parts {
		bold := len(p) > 1 && p[0] == '*'
		if bold {
			p = p[1 : len(p)-1]
		}
		runs = append(runs, document.Run{Text: p, Bold: bold})
	}
	return runs
}

func tickOff(parts ...string) document.Act { return document.Act{Runs: words(parts...), Tick: true} }

// benchCard is a job that has one of everything: each signal word, passes with a layout, a reading, a hold, a handover.
func benchCard() *document.JobCard {
	torque := tickOff("Torque the ", "*drain plug*", " with the 17 mm socket and torque wrench.")
	torque.Torque = &document.TorqueBox{Figure: "25", Unit: "N·m", Second: "18", SecondUnit: "lbf·ft"}
	turned := tickOff("Torque ", "*2 gland nuts*", " and turn them on.")
	turned.Torque = &document.TorqueBox{Figure: "30", Unit: "N·m", Second: "22", SecondUnit: "lbf·ft", Angle: "then 90°"}
	reading := tickOff("then measure oil level ", "*12 to 18 mm*", ".")
	reading.Boxes = []document.MeasureBox{{Limits: "12–18", Unit: "mm"}}
	reading.Lines = []string{"Else top up."}
	passes := document.Act{Runs: words("Torque ", "*12 cover bolts*", " to ", "*22 N·m*", " crosswise in ", "*3 passes*", ".")}
	passes.Torque = &document.TorqueBox{Figure: "22", Unit: "N·m", Second: "16", SecondUnit: "lbf·ft"}
	passes.Passes = &document.Passes{
		Unit: "N·m", SecondUnit: "lbf·ft", Below: "Same order in each pass; start at 1.", Layout: &document.Layout{Part: "end cover"},
		Rows: []document.Pass{{Name: "Pass 1", Figure: "6.5", Second: "5"}, {Name: "Pass 2", Figure: "13", Second: "10"}, {Name: "Pass 3", Figure: "22", Second: "16"}},
	}
	for i, at := range [][2]int{{4, 0}, {8, 0}, {12, 0}, {15, 2}, {15, 4}, {15, 6}, {12, 8}, {8, 8}, {4, 8}, {1, 6}, {1, 4}, {1, 2}} {
		passes.Passes.Layout.Places = append(passes.Passes.Layout.Places, document.Place{X: at[0], Y: at[1] / 2, Order: i + 1})
	}
	panel := func(signal string) document.Panel {
		return document.Panel{Signal: signal, Hazard: words("Stored load."), Consequence: words("A load left on the rope drops and crushes."), Avoid: words("Land the rake and slack the rope.")}
	}
	return &document.JobCard{
		Language: "en",
		Header: document.Header{
			Number: "SD-114", Revision: "C", Title: "Reseal the end cover of the rake winch", Machine: "Rake winch RW40, serial 0210 and up",
			Date: "20 November 2026", ShortDate: "2026-11-20", Digest: "4F7K-29QD", Payload: "SD-114 C 4F7K29QD", Draft: true,
		},
		Foot: document.Foot{Lead: "Card looks wrong?", Wrong: "Stop, leave it safe, tell the foreman.", Statement: "The maker's service information, local codes and licensed practice come before this card."},
		Blocks: []document.Block{
			document.Heading{Text: "Before you start"},
			document.Facts{Facts: []document.Fact{{Label: "People", Value: "2"}, {Label: "Time", Value: "about 55 min"}, {Label: "Heaviest lift", Value: "18 kg, hoist"}, {Label: "Isolate", Value: "winch isolator"}}},
			panel("WARNING"),
			document.Line{Lead: "Wear:", Runs: words("goggles and gloves")},
			document.Glance{Lists: []document.GlanceList{
				{Head: "Tools", Wide: true, Items: []document.GlanceItem{{Name: "6 mm hex key"}, {Name: "17 mm socket"}, {Name: "torque wrench, 5–50 N·m"}, {Name: "drain pan, 3 L"}}},
				{Head: "New parts", Items: []document.GlanceItem{{Count: "1", Name: "sealing washer"}, {Count: "1", Name: "cover gasket"}}},
				{Head: "Supplies", Items: []document.GlanceItem{{Count: "1.4 L", Name: "gear oil"}, {Count: "4", Name: "shop towel"}}},
			}},
			document.Stage{Title: "Make safe", Range: "step 1"},
			document.Step{Name: "1", Number: 1, Panels: []document.Panel{panel("DANGER")}, Acts: []document.Act{tickOff("Lock off the ", "*winch isolator*", " and press start."), tickOff("Check the drum does not turn.")}},
			document.Stage{Title: "Strip", Range: "steps 2 to 3"},
			document.Step{Name: "2", Number: 2, Panels: []document.Panel{panel("CAUTION")}, Condition: document.Condition{If: "oil shows at the plug", Takes: "4 min"}, Acts: []document.Act{tickOff("Drain the ", "*gear oil*", ".")}},
			document.Step{Name: "3", Number: 3, Before: []document.Block{document.Note{Runs: words("The cover is heavy at one side.")}}, Acts: []document.Act{{Handover: &document.Handover{Lines: []document.HandoverLine{{Label: "Off", Words: "12 cover bolts, 1 end cover"}, {Label: "Open", Words: "none"}}}}}},
			document.Stage{Title: "Refit", Range: "steps 4 to 7"},
			document.Step{Name: "4", Number: 4, Panels: []document.Panel{panel("NOTICE")}, Acts: []document.Act{tickOff("Install ", "*12 cover bolts*", " finger-tight."), passes}},
			document.Step{Name: "5", Number: 5, Acts: []document.Act{{Hold: &document.Hold{For: "the supervisor", Next: "6"}}}},
			document.Step{Name: "6", Number: 6, Acts: []document.Act{torque, turned}},
			document.Step{Name: "7", Number: 7, Condition: document.Condition{Repeat: "3 times", Times: 3}, Acts: []document.Act{tickOff("Fill the ", "*gear oil*", "."), reading}},
			document.TorqueTable{Unit: "N·m", SecondUnit: "lbf·ft", Rows: []document.TorqueRow{{Step: "4", What: "12 cover bolts", Figure: "22", Unit: "N·m", Second: "16", SecondUnit: "lbf·ft"}}},
			document.After{Lines: []document.Line{{Lead: "After the job:", Runs: words("look for oil after 24 h")}}},
		},
		End: document.End{Steps: 7, Boxes: 14, Then: "Now finish the record sheet."},
	}
}
