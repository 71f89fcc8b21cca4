# SPDX-License-Identifier: GPL-3.0-or-later
# The README's table is the one the program prints, and every take it makes is there: cmake -D MAKER= -D SAMPLES= -D OUT= -P this
execute_process(COMMAND ${MAKER} ${OUT} OUTPUT_VARIABLE table COMMAND_ERROR_IS_FATAL ANY)
file(READ ${SAMPLES}/README.md readme)
string(FIND "${readme}" "${table}" at)
if(at EQUAL -1)
  message(FATAL_ERROR "samples/README.md does not hold the table that make_samples prints:\n${table}")
endif()
file(GLOB names RELATIVE ${OUT} ${OUT}/*.flac ${OUT}/*.truth.json)
foreach(name IN LISTS names)
  if(NOT EXISTS ${SAMPLES}/takes/${name})
    message(FATAL_ERROR "samples/takes/${name} is missing: make the takes again")
  endif()
endforeach()
