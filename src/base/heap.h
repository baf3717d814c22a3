#pragma once

namespace ohmleaf {

/// Asks for memory in large pages where the system has them. Called once, first of all. A process
/// that lives for a twentieth of a second spends much of it on being given memory page by page: on
/// a virtual machine more than on the work. Changes nothing where it cannot be had.
void prepare_heap();

}  // namespace ohmleaf
