#include "cli/run.h"

int main(int argc, char** argv) {
  return ohmleaf::cli::main_entry(argc, argv);
}
