//! What milling takes from a rough piece: allowances, flattening, blanks, staves.
