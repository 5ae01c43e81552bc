package org.voltsecond.circuit;

/**
 * A pair of terminals: a part with two terminals has one, which bears its name; a part with several windings has one for
 * each, named "part.winding". Current counts positive from {@code plus} through the part to {@code minus}, voltage as
 * that of {@code plus} against {@code minus}, so that their product is the power that the part takes in.
 *
 * <pre>{@code
 * Port rectifier = rail.circuit().part("D1").ports().get(0);
 * String anode = rectifier.plus(); // "ground"
 * String cathode = rectifier.minus(); // "sw"
 * }</pre>
 *
 * @param name unique within the circuit
 * @param part the part that it belongs to
 * @param plus node of the first terminal
 * @param minus node of the second terminal
 */
public record Port(String name, String part, String plus, String minus) {}
