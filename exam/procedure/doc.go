// Package procedure holds what a person needs beside an injection or a blood
// draw: sites in words, where the last ones went, check lists, what to see
// before a vein, signs of danger with what to do first, and the cautions of the
// trade. It proposes no product and no dose; the veterinarian, the label and
// local rules come first.
package procedure
