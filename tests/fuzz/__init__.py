"""Files of strangers, changed at random under the eyes of a coverage-guided fuzzer."""
