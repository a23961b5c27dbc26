// Package weight estimates a horse's body weight from tape measures, for the person who has no
// scale at hand. Every equation says which animals it was made for, how its length is measured, how
// far it is known to differ from a scale and where it was published; for an animal without an
// equation the package says so.
//
// All equations are rows of one table, Equations: measures in centimetres go in, kilograms with a band come out. An
// estimate is no weighing, and no dose is proposed from it: the veterinarian decides what it is used for.
package weight
