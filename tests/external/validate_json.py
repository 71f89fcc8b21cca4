#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Holds JSON against a JSON Schema of draft 2020-12, by Debian's python3-jsonschema.

Reads one JSON text after another (JSON Lines are such) from standard input and prints a line for each thing that is
wrong: which text, counted from 1, where in it, and what. Exit status 0: all are right; 1: some are not; 2: the schema
itself is wrong, or what was read is no JSON; 3: jsonschema is missing.

usage: validate_json.py SCHEMA [--strict] [--ordered] [--schema-only]

--strict refuses what a schema that allows additions lets through: a key that it does not describe. --ordered refuses
keys in another order than it describes them. --schema-only holds the schema alone against its metaschema.
"""
import argparse
import json
import pathlib
import re
import sys

try:
    import jsonschema
    from jsonschema import Draft202012Validator as Draft
    from jsonschema.validators import extend
except ImportError:
    print("python3-jsonschema is missing", file=sys.stderr)
    sys.exit(3)

DRAFT = "https://json-schema.org/draft/2020-12/schema"


def describes_objects(schema):
    """Whether it is the description of an object, not one of the conditions that are laid on it elsewhere."""
    kinds = schema.get("type", []) if isinstance(schema, dict) else []
    return "properties" in schema and "object" in ([kinds] if isinstance(kinds, str) else kinds)


def closed(schema):
    """The same schema, each object in it limited to the keys that are described."""
    if isinstance(schema, list):
        return [closed(each) for each in schema]
    if not isinstance(schema, dict):
        return schema
    inner = {key: closed(value) for key, value in schema.items()}
    return {**inner, "additionalProperties": False} if describes_objects(schema) else inner


def in_order(validator, properties, instance, schema):
    """The keyword `properties`, and beside it the order of the keys."""
    yield from Draft.VALIDATORS["properties"](validator, properties, instance, schema)
    if not describes_objects(schema) or not validator.is_type(instance, "object"):
        return
    written = [key for key in instance if key in properties]
    described = [key for key in properties if key in instance]
    if written != described:
        yield jsonschema.ValidationError(f"keys stand in the order {written}, described as {described}")


def without_repeats(pairs):
    """An object; a key that stands twice in it is a mistake that Python would swallow."""
    keys = [key for key, _ in pairs]
    if len(set(keys)) != len(keys):
        raise ValueError(f"a key stands twice: {keys}")
    return dict(pairs)


def no_number(word):
    raise ValueError(f"{word} is no JSON")


def texts_in(text):
    decoder = json.JSONDecoder(object_pairs_hook=without_repeats, parse_constant=no_number)
    blanks = re.compile(r"\s*")
    at = blanks.match(text).end()
    while at < len(text):
        value, at = decoder.raw_decode(text, at)
        at = blanks.match(text, at).end()
        yield value


def sound_schema(path):
    schema = json.loads(path.read_text(encoding="utf-8"), object_pairs_hook=without_repeats)
    if schema.get("$schema") != DRAFT:
        raise ValueError(f"its $schema is not {DRAFT}")
    Draft.check_schema(schema)
    return schema


def validator_of(schema, strict, ordered):
    kind = extend(Draft, {"properties": in_order}) if ordered else Draft
    return kind(closed(schema) if strict else schema)


def judge(validator, text):
    wrong = read = 0
    for read, value in enumerate(texts_in(text), 1):
        for mistake in validator.iter_errors(value):
            wrong += 1
            print(f"{read}: {mistake.json_path}: {mistake.message[:300]}")
    if read == 0:
        raise ValueError("no JSON to hold against it")
    return 1 if wrong else 0


def main():
    parser = argparse.ArgumentParser(usage=__doc__.split("usage: ")[1].split("\n")[0])
    parser.add_argument("schema", type=pathlib.Path)
    parser.add_argument("--strict", action="store_true")
    parser.add_argument("--ordered", action="store_true")
    parser.add_argument("--schema-only", action="store_true")
    call = parser.parse_args()

    try:
        schema = sound_schema(call.schema)
        return 0 if call.schema_only else judge(validator_of(schema, call.strict, call.ordered), sys.stdin.read())
    except (ValueError, jsonschema.SchemaError) as mistake:
        print(f"{call.schema}: {str(mistake)[:1000]}", file=sys.stderr)
        return 2


if __name__ == "__main__":
    sys.exit(main())
