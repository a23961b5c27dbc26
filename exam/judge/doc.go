// Package judge sets the findings of a visit beside the range of the horse's class, beside the horse's own earlier
// visits, and beside each other, and says in remarks what stands out. It is for the person who examines: a remark names
// the limit, where the limit comes from and what to do next; it names no illness and no treatment.
//
// # Levels
//
// A number takes its level from its row of the ranges package, in the unit that was typed. A word takes it from the
// literal of its choice. A rule joins findings that mean more together than alone. After work, excitement, travel or in heat
// a remark asks for the count again at rest, and keeps its level; only a high heart or breathing rate just after work, with
// no other sign, is taken again before it is told (worked.go). Nothing lowers a temperature.
//
// While the exam runs nothing is said of what was not looked at yet; when it is over (Ended, or a closed visit) a visit for
// colic with most signs left out is told. Danger counts the signs that published studies name, among horses that are told.
//
// Where no row is held for the horse's class the finding is listed as not judged, with the reason. A value that is no
// number, or a word that this version does not know, is listed too: it is never called usual.
package judge
