#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Validates JSON on standard input, one text or a line each, against a JSON Schema with python3-jsonschema.

usage: validate_json.py SCHEMA [--lines]

Stricter than the schema itself, which allows keys that a later version may add: here an object may have no key that the
schema does not describe. Prints each breach and exits 1 if there is any, 2 where there is nothing to validate.
"""
import json
import sys

import jsonschema


def closed(schema):
    """The same schema, every described object without further keys."""
    if isinstance(schema, list):
        return [closed(each) for each in schema]
    if not isinstance(schema, dict):
        return schema
    shut = {key: closed(value) for key, value in schema.items()}
    if "properties" in schema and isinstance(schema.get("required"), list):
        shut.setdefault("additionalProperties", False)
    return shut


def main():
    with open(sys.argv[1], encoding="utf-8") as file:
        schema = json.load(file)
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(closed(schema))
    text = sys.stdin.read()
    documents = [json.loads(line) for line in text.splitlines()] if "--lines" in sys.argv else [json.loads(text)]
    breaches = 0
    for number, document in enumerate(documents, 1):
        for error in validator.iter_errors(document):
            print(f"{number}: {error.json_path}: {error.message[:200]}")
            breaches += 1
    sys.exit(1 if breaches else 0 if documents else 2)


if __name__ == "__main__":
    main()
