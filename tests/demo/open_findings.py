"""What the program does not yet say truly of the demo's bench: each test, with what it says instead.

The key stays as it is; whoever puts one right takes its line away here.
"""

OPEN = {
    "test_remarks_beside_the_work_are_no_holders": "every remark written since the joint was clear is asked",
    "test_joint_that_is_apart_is_not_asked_to_be_left_alone": "that it is apart is not seen",
}
