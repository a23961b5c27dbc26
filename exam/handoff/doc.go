// Package handoff makes the page that a technician reads to the veterinarian:
// why I call, danger signs, vital signs with their values, what stands out, the
// rest, what is asked, read aloud in under a minute; and under it, to be filed, the
// S and O of a SOAP note. Assessment and plan are the veterinarian's and stay empty.
//
// The parts are those of SBAR (Shahid & Thomas 2018, doi 10.1186/s40886-018-0073-1; NHS
// SBAR guide). What a technician says under A is what was measured and what
// worries them, never what it is.
package handoff
