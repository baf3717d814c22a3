#pragma once

/// The folder of the checkout that is tested. Known to one file only, so that every other object is
/// the same in each checkout, and a compiler cache can share it.
const char* source_root();

/// tests/data of that checkout.
const char* test_data();
