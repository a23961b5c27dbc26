// Package fhir writes a visit as a FHIR R4 (4.0.1) document Bundle in JSON, for
// other programs. It claims no conformance; FHIR is a trademark of HL7.
//
//	Bundle (document)
//	  Composition          the exam, a section for each body system
//	  Patient              the animal, by the patient-animal extension
//	  Encounter            the visit, in the field
//	  Practitioner         everybody who wrote an entry, by name
//	  Observation          one answer, two where laptops differ; not done as dataAbsentReason; a note; what was before
//	  Medication, MedicationAdministration   an injection
//	  Immunization         a vaccination
//	  Procedure, Specimen  a blood draw and its tubes
//	  Provenance           who, when, and the digest of the last entry
//
// Read takes it back: Patient, Flag, Composition with its Encounter, Observation and Immunization. What was written by this
// program is the same document when it is written again, to the byte, with what it left out listed: an unfinished visit
// (its answers are preliminary) and a void one; and of a visit the hand-offs, decisions, orders, needles, draws, follow-ups,
// take-overs and signatures, which bind those who made them and give nobody leave elsewhere. A vaccine that was given there
// is a past dose here. What the reader's own record knows of the animal can change an interpretation. A document that says
// anything else than the one that was read has an identity of its own.
//
// LOINC codes stand only where one fits (see codes.go); everything also carries
// the identity of its step in this program's own code system. Units are UCUM.
// SNOMED CT and other licensed code sets are not used.
//
// This material contains content from LOINC (http://loinc.org). LOINC is copyright
// Regenstrief Institute, Inc. and the Logical Observation Identifiers Names and
// Codes (LOINC) Committee and is available at no cost under the license at
// http://loinc.org/license. UCUM is copyright Regenstrief Institute, Inc.,
// http://ucum.org/license.
package fhir
