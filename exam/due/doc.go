// Package due says which vaccinations and rechecks of a horse are due, by when,
// by whose schedule and why. The tables are guidelines: the veterinarian's plan
// and the label of the product override them, and every answer says so. It
// proposes no product and no dose.
//
// The built-in table is of the United States. A practice lays its own rows over
// it with schedule.csv in the data folder, columns
//
//	disease,class,group,doses,first,second,third,again,note
//
// A row replaces the row of its disease and group. Class is core (asked of every
// horse), risk (followed once a dose is in the record) or off. Groups are those
// of the built-in table. Spans of time:
//
//	now · age 4-6mo · age 6mo+ · after 4-6wk (the dose before) · foaling 4-6wk (before it)
//	gestation 5mo · every 6-12mo · pregnancy (each one again) · "words" where no date can be computed
package due
