package quantity

import "math/big"

// table lists the units: how each prints, its factor to the unit of reference of its kind, and every accepted spelling.
// Units of reference: N·m, m, m³, kg, s, Pa, K, degree of angle, m/s, turn/s, N, V, A, Ω, m³/s, m², W, Hz, 1.
func table() []Unit {
	u := func(k Kind, s System, name string, factor *big.Rat, also ...string) Unit {
		return Unit{Name: name, Kind: k, System: s, factor: factor, offset: new(big.Rat), also: also}
	}
	joined := func(x Unit) Unit { x.Joined = true; return x }
	shifted := func(x Unit, offset *big.Rat) Unit { x.offset = offset; return x }
	lbf := product(pound, gravity)
	times := func(a *big.Rat, f ...string) *big.Rat { return new(big.Rat).Mul(a, product(f...)) }
	over := func(a, b *big.Rat) *big.Rat { return new(big.Rat).Quo(a, b) }
	sqIn := product(inch, inch)
	return []Unit{
		u(Torque, Metric, "N·m", rat("1"), "Nm", "N-m", "N.m", "N*m", "N m", "newton metre", "newton metres", "newton-metre", "newton-metres", "newton meter", "newton meters"),
		u(Torque, Metric, "cN·m", rat("0.01"), "cNm"),
		u(Torque, Metric, "kN·m", rat("1000"), "kNm"),
		u(Torque, US, "lbf·ft", times(lbf, "12", inch), "lbf ft", "lbf-ft", "lbf.ft", "lbf*ft", "ft-lb", "ft-lbs", "ft·lb", "ft lb", "ft lbs", "ft.lb", "ft·lbf", "ft-lbf", "ft lbf", "ftlb", "lb-ft", "lb·ft", "lb ft", "lbs ft", "lb.ft", "pound-foot", "pound-feet", "foot-pound", "foot-pounds", "foot pounds"),
		u(Torque, US, "lbf·in", times(lbf, inch), "lbf in", "lbf-in", "lbf.in", "lbf*in", "in-lb", "in-lbs", "in·lb", "in lb", "in lbs", "in.lb", "in·lbf", "in-lbf", "in lbf", "inlb", "lb-in", "lb·in", "lb in", "inch-pound", "inch-pounds", "inch pounds"),
		u(Torque, US, "ozf·in", over(times(lbf, inch), rat("16")), "ozf*in", "ozf-in", "in-oz", "oz-in", "oz·in"),
		u(Torque, Metric, "kgf·m", rat(gravity), "kgf*m", "kgf-m", "kgf m", "kgfm", "kg-m", "kg·m", "kp-m", "kp·m", "mkg"),
		u(Torque, Metric, "kgf·cm", product(gravity, "0.01"), "kgf*cm", "kgf-cm", "kgf cm", "kg-cm", "kg·cm"),

		u(Length, Metric, "µm", rat("0.000001"), "μm", "um", "micron", "microns"),
		u(Length, Metric, "mm", rat("0.001"), "millimetre", "millimetres", "millimeter", "millimeters"),
		u(Length, Metric, "cm", rat("0.01")),
		u(Length, Metric, "m", rat("1"), "metre", "metres", "meter", "meters"),
		u(Length, Metric, "km", rat("1000"), "kilometre", "kilometres"),
		u(Length, US, "thou", product(inch, "0.001"), "mil", "mils"),
		u(Length, US, "in", rat(inch), "inch", "inches", "″", "\""),
		u(Length, US, "ft", product(inch, "12"), "foot", "feet", "′"),
		u(Length, US, "yd", product(inch, "36"), "yard", "yards"),
		u(Length, US, "mile", product(inch, "63360"), "miles"),

		u(Volume, Metric, "mL", rat("0.000001"), "ml", "cc", "cm³"),
		u(Volume, Metric, "cL", rat("0.00001"), "cl"),
		u(Volume, Metric, "L", rat("0.001"), "l", "litre", "litres", "liter", "liters"),
		u(Volume, Metric, "m³", rat("1")),
		u(Volume, US, "fl oz", over(rat(gallon), rat("128"))),
		u(Volume, US, "pt", over(rat(gallon), rat("8")), "pint", "pints"),
		u(Volume, US, "qt", over(rat(gallon), rat("4")), "qts", "quart", "quarts"),
		u(Volume, US, "gal", rat(gallon), "gallon", "gallons"),

		u(Mass, Metric, "mg", rat("0.000001")),
		u(Mass, Metric, "g", rat("0.001"), "gram", "grams"),
		u(Mass, Metric, "kg", rat("1"), "kilogram", "kilograms"),
		u(Mass, Metric, "t", rat("1000"), "tonne", "tonnes"),
		u(Mass, US, "oz", over(rat(pound), rat("16")), "ounce", "ounces"),
		u(Mass, US, "lb", rat(pound), "lbs", "pound", "pounds"),

		u(Time, Either, "ms", rat("0.001")),
		u(Time, Either, "s", rat("1"), "sec", "secs", "second", "seconds"),
		u(Time, Either, "min", rat("60"), "mins", "minute", "minutes"),
		u(Time, Either, "h", rat("3600"), "hr", "hrs", "hour", "hours"),
		u(Time, Either, "days", rat("86400"), "day", "d"),
		u(Time, Either, "weeks", rat("604800"), "week"),

		u(Pressure, Metric, "Pa", rat("1")),
		u(Pressure, Metric, "kPa", rat("1000")),
		u(Pressure, Metric, "MPa", rat("1000000"), "N/mm²"),
		u(Pressure, Metric, "mbar", rat("100")),
		u(Pressure, Metric, "bar", rat("100000")),
		u(Pressure, Metric, "kgf/cm²", product(gravity, "10000"), "kgf/cm2"),
		u(Pressure, US, "psi", over(lbf, sqIn), "PSI", "lbf/in²", "lbf/in2"),
		u(Pressure, US, "ksi", times(over(lbf, sqIn), "1000")),
		u(Pressure, US, "inHg", rat("3386.389"), "in Hg"), // conventional value, NIST SP 811 B.8

		shifted(joinedNo(u(Temperature, Metric, "°C", rat("1"), "degC", "deg C", "C")), rat("273.15")),
		shifted(joinedNo(u(Temperature, US, "°F", rat("5/9"), "degF", "deg F", "F")), over(rat("45967"), rat("180"))),
		u(Temperature, Metric, "K", rat("1")),

		joined(u(Angle, Either, "°", rat("1"), "deg", "degs", "degree", "degrees")),
		u(Angle, Either, "turn", rat("360"), "turns"),

		u(Speed, Metric, "mm/s", rat("0.001")),
		u(Speed, Metric, "m/s", rat("1")),
		u(Speed, Metric, "m/min", rat("1/60")),
		u(Speed, Metric, "km/h", rat("5/18"), "kph"),
		u(Speed, US, "ft/min", over(product(inch, "12"), rat("60"))),
		u(Speed, US, "mph", over(product(inch, "63360"), rat("3600"))),

		u(Rotation, Either, "rpm", rat("1/60"), "r/min", "rev/min", "1/min"),

		u(Force, Metric, "N", rat("1"), "newton", "newtons"),
		u(Force, Metric, "kN", rat("1000")),
		u(Force, Metric, "kgf", rat(gravity)),
		u(Force, US, "lbf", lbf),

		u(Voltage, Either, "mV", rat("0.001")), u(Voltage, Either, "V", rat("1"), "volt", "volts"), u(Voltage, Either, "kV", rat("1000")),
		u(Current, Either, "mA", rat("0.001")), u(Current, Either, "A", rat("1"), "amp", "amps"),
		u(Resistance, Either, "Ω", rat("1"), "ohm", "ohms", "Ω"), u(Resistance, Either, "kΩ", rat("1000"), "kohm"), u(Resistance, Either, "MΩ", rat("1000000"), "Mohm", "megohm"),

		u(Flow, Metric, "L/min", rat("1/60000"), "l/min", "lpm"),
		u(Flow, Metric, "L/s", rat("0.001"), "l/s"),
		u(Flow, Metric, "m³/h", rat("1/3600"), "m3/h"),
		u(Flow, US, "gpm", over(rat(gallon), rat("60")), "gal/min"),

		u(Area, Metric, "mm²", rat("0.000001"), "mm2"), u(Area, US, "in²", sqIn, "in2"),
		u(Power, Metric, "W", rat("1")), u(Power, Metric, "kW", rat("1000")),
		u(Power, US, "hp", times(lbf, "550", "12", inch)),
		u(Frequency, Either, "Hz", rat("1")),
		u(Share, Either, "%", rat("0.01")),
	}
}

func joinedNo(u Unit) Unit { return u }
