// Package sums is the arithmetic that a technician does beside a horse, each sum described once: what is asked, how the
// answer is worked out, what is to be looked at twice, and where the formula comes from. The terminal's screen and the
// commands read the same description. A sum proposes no drug, no dose and no rate; what it is given, it computes.
package sums
