"""The record of a job: sealed events in any order of arrival, and what they come to."""
