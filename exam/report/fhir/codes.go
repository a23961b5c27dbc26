package fhir

import (
	"loosebox/exam"
	"loosebox/exam/notation"
)

// Code systems and value sets that are named in a Bundle.
const (
	systemLOINC          = "http://loinc.org"
	systemUCUM           = "http://unitsofmeasure.org"
	systemCategory       = "http://terminology.hl7.org/CodeSystem/observation-category"
	systemAbsent         = "http://terminology.hl7.org/CodeSystem/data-absent-reason"
	systemInterpretation = "http://terminology.hl7.org/CodeSystem/v3-ObservationInterpretation"
	systemEncounterClass = "http://terminology.hl7.org/CodeSystem/v3-ActCode"
	systemGenderStatus   = "http://hl7.org/fhir/animal-genderstatus"
	systemParticipant    = "http://terminology.hl7.org/CodeSystem/provenance-participant-type"
	systemIdentifier     = "http://terminology.hl7.org/CodeSystem/v2-0203"
	systemCommunication  = "http://terminology.hl7.org/CodeSystem/communication-category"
	systemFlag           = "http://terminology.hl7.org/CodeSystem/flag-category"
	systemOrigin         = "http://terminology.hl7.org/CodeSystem/immunization-origin"
	systemURI            = "urn:ietf:rfc:3986"
	extensionOrdinal     = "http://hl7.org/fhir/StructureDefinition/ordinalValue"
	extensionBirthTime   = "http://hl7.org/fhir/StructureDefinition/patient-birthTime"
	extensionAnimal      = "http://hl7.org/fhir/StructureDefinition/patient-animal"

	// This program's own: steps, choices by step, chip numbers and digests.
	systemStep   = "urn:x-loosebox:step"
	systemChoice = "urn:x-loosebox:choice"
	systemLevel  = "urn:x-loosebox:level"
	systemUELN   = "urn:x-loosebox:ueln"
	// systemRoutine are the routines of exams; the other three are what is asked before, and notes by their step.
	systemRoutine  = "urn:x-loosebox:routine"
	systemState    = "urn:x-loosebox:state"
	systemMedicine = "urn:x-loosebox:medicine"
	systemNote     = "urn:x-loosebox:note"
	systemDigest   = "urn:x-loosebox:digest"
	// systemChip is the standard of chip numbers as RFC 5141 names standards of ISO.
	systemChip = "urn:iso:std:iso:11784"

	extensionNotForFood = "urn:x-loosebox:not-for-food-to"
	// extensionBirth says how a birth is known where a date does not: estimated, foal or adult.
	extensionBirth = "urn:x-loosebox:birth"
	// extensionRecorder is who typed in a dose from papers: R4 has no element for it that is not who gave it.
	extensionRecorder = "urn:x-loosebox:recorded-by"
	// extensionSeries says that the papers show the whole primary series.
	extensionSeries = "urn:x-loosebox:series-done"
	// extensionSerial is the serial number of a package: R4 has an element for its lot and its expiry alone.
	extensionSerial = "urn:x-loosebox:serial"

	// systemItem are the item numbers of packages: HL7 terminology, NamingSystem gtin, version 3.0.0.
	systemItem = "https://www.gs1.org/gtin"
)

// loinc is every LOINC code that is written, with its name: as read in HL7's R4
// vital-signs profiles or in the list of LOINC 2.82 (standards facts, 1.2).
var loinc = map[string]string{
	"29545-1": "PHYSICAL EXAMINATION",
	"34117-2": "History and physical note",
	"8310-5":  "Body temperature",
	"8332-9":  "Rectal temperature",
	"8867-4":  "Heart rate",
	"9279-1":  "Respiratory rate",
	"29463-7": "Body weight",
	"3141-9":  "Body weight Measured",
	"44971-0": "Capillary refill [Time]",
	"80278-5": "Heart Murmur grade",
	"8884-9":  "Heart rate rhythm",
}

// known are the steps for which a LOINC code fits; the first is the one that HL7's
// profile of a vital sign wants.
var known = map[exam.StepID][]string{
	"temp.rectal":  {"8310-5", "8332-9"},
	"heart.rate":   {"8867-4"},
	"breath.rate":  {"9279-1"},
	"weight.body":  {"29463-7"},
	"gum.refill":   {"44971-0"},
	"heart.murmur": {"80278-5"},
	"heart.rhythm": {"8884-9"},
}

// vital says that a step is a vital sign in the sense of HL7's profiles.
func vital(step exam.StepID) bool {
	switch step {
	case "temp.rectal", "heart.rate", "breath.rate", "weight.body":
		return true
	}
	return false
}

// unit is a unit as it is shown and as UCUM writes it.
type unit struct{ shown, code string }

// unitOf is the unit of a number; rates are named by what is counted, with the
// code /min that HL7's heart rate profile asks for exactly.
func unitOf(u notation.Unit, step exam.Step) unit {
	switch u {
	case notation.Celsius:
		return unit{"C", "Cel"}
	case notation.Fahrenheit:
		return unit{"F", "[degF]"}
	case notation.PerMinute:
		if step.Heard == "breath" {
			return unit{"breaths/min", "/min"}
		}
		return unit{"beats/min", "/min"}
	case notation.Seconds:
		return unit{"s", "s"}
	case notation.Kilograms:
		return unit{"kg", "kg"}
	case notation.Pounds:
		return unit{"lb", "[lb_av]"}
	case notation.Centimetre:
		return unit{"cm", "cm"}
	case notation.Inch:
		return unit{"in", "[in_i]"}
	case notation.Points:
		return unit{"score", "{score}"}
	case notation.NoUnit, notation.Hands: // no step is measured in hands
	}
	return unit{"1", "1"}
}

// allowed are the units that a LOINC code may carry; a code that is not here has
// no quantity.
var allowed = map[string][]string{
	"8310-5":  {"Cel", "[degF]"},
	"8332-9":  {"Cel", "[degF]"},
	"8867-4":  {"/min"},
	"9279-1":  {"/min"},
	"29463-7": {"kg", "[lb_av]"},
	"3141-9":  {"kg", "[lb_av]"},
	"44971-0": {"s"},
}

// units are all that may stand beside a number.
var units = []string{"Cel", "[degF]", "/min", "s", "kg", "[lb_av]", "cm", "[in_i]", "{score}", "1", "mL", "mg/kg"}
