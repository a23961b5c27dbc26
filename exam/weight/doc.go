// Package weight estimates a horse's body weight from tape measures, for the person who has no scale at hand. Every
// equation says whom it was made for, how its length is measured, how far it is known to read from the scale and where
// it was published; for an animal that no equation was made for, the package says so and lends it none.
//
// All equations are rows of one table, Equations: measures in centimetres go in, kilograms with a band come out. An
// estimate is no weighing, and no dose is proposed from it: the veterinarian decides what it is used for.
package weight
