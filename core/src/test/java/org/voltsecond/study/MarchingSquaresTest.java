package org.voltsecond.study;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.study.MapLine.Spot;

class MarchingSquaresTest {
    private static List<List<Spot>> lines(double[][] values) {
        return new MarchingSquares(values, 0)
                        .lines(edge -> edge.upright()
                                ? new Spot(edge.i(), edge.j() + 0.5)
                                : new Spot(edge.i() + 0.5, edge.j()))
                        .stream()
                        .map(MapLine::spots)
                        .toList();
    }

    /** Two corners across from each other are above; the middle, their mean, decides with which pair it goes. */
    @Test
    void aSaddleIsCutWhereItsMiddleSays() {
        List<List<Spot>> joined = lines(new double[][] {{2, -1}, {-1, 2}});
        assertThat(joined)
                .anySatisfy(line -> assertThat(line).containsExactlyInAnyOrder(new Spot(0.5, 0), new Spot(1, 0.5)))
                .anySatisfy(line -> assertThat(line).containsExactlyInAnyOrder(new Spot(0.5, 1), new Spot(0, 0.5)));
        List<List<Spot>> apart = lines(new double[][] {{1, -2}, {-2, 1}});
        assertThat(apart)
                .anySatisfy(line -> assertThat(line).containsExactlyInAnyOrder(new Spot(0.5, 0), new Spot(0, 0.5)))
                .anySatisfy(line -> assertThat(line).containsExactlyInAnyOrder(new Spot(0.5, 1), new Spot(1, 0.5)));
    }
}
